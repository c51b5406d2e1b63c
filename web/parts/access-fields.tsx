/** How a point is reached, as the owner types it: the road, the gates, the wet, where a truck turns. */
import type { Access } from '../../services/http/program-shapes.ts'
import { accessFieldWords as words } from '../text/getting-there.ts'
import { Field } from './field.tsx'
import type { FieldProps } from './use-fields.ts'

const FIELDS = ['road', 'gates', 'wetSeason', 'turnaround'] as const
type AccessField = (typeof FIELDS)[number]

export type TypedAccess = Readonly<Record<AccessField, string>>

export const typedAccess = (access: Access | null): TypedAccess => ({
  road: access?.road ?? '',
  gates: access?.gates ?? '',
  wetSeason: access?.wetSeason ?? '',
  turnaround: access?.turnaround ?? '',
})

interface AccessFieldsProps {
  readonly access: Access | null
  readonly of: (name: AccessField) => FieldProps<string>
}

export function AccessFields({ access, of }: AccessFieldsProps) {
  return (
    <>
      <p class="hint">{words.hint}</p>
      {FIELDS.map((field) => (
        <Field label={words.fields[field]} hint={words.hints[field]} {...of(field)} key={field} />
      ))}
      {access !== null && <p class="hint">{words.old(access.at, access.who)}</p>}
    </>
  )
}
