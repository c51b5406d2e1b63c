/** Species: whose they are to the owner, and how sure the camera count must be. */
import { useState } from 'preact/hooks'
import type { Station } from '../../../services/http/shapes.ts'
import { Failed, tell } from '../../api/ask.ts'
import { Choice, Field, typedNumber } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { useForm } from '../../parts/use-form.ts'
import { speciesName } from '../../text/counts.ts'
import { setupWords } from '../../text/setup.ts'
import { stationBody } from './station.tsx'

const words = setupWords.species
const PERCENT_DECIMALS = 2

interface SpeciesSetupProps {
  readonly station: Station
  readonly saved: () => void
}

/** `35` for a mark of 0.35: on screen how sure the camera count is stands in per cent. */
export function percentTyped(share: number): string {
  return String(Number((share * 100).toFixed(PERCENT_DECIMALS)))
}

/** The mark, 0 to 1, for what was typed as per cent. @throws {Failed} at the field, where it is no share of a hundred. */
export function shareTyped(typed: string, field: string): number {
  const percent = typedNumber(typed)
  if (typeof percent === 'number' && percent >= 0 && percent <= 100) {
    return Number((percent / 100).toFixed(PERCENT_DECIMALS + 2))
  }
  throw new Failed({ ...words.wrongMark, field, status: null })
}

export function SpeciesSetup({ station, saved }: SpeciesSetupProps) {
  const form = useForm()
  const [rows, setRows] = useState(() =>
    station.species.map(({ species, role, countThreshold, flagThreshold }) => ({
      species,
      role,
      count: percentTyped(countThreshold),
      flag: percentTyped(flagThreshold),
    })),
  )
  const change = (at: number, to: Partial<(typeof rows)[number]>) =>
    setRows((before) => before.map((row, index) => (index === at ? { ...row, ...to } : row)))
  const submit = async () => {
    const species = rows.map((row, at) => {
      const flagField = `species.${at}.flagThreshold`
      const countThreshold = shareTyped(row.count, `species.${at}.countThreshold`)
      const flagThreshold = shareTyped(row.flag, flagField)
      // The service refuses it too, in shares of one and without the field.
      if (flagThreshold > countThreshold)
        throw new Failed({ ...words.wrongOrder, field: flagField, status: null })
      return { species: row.species, role: row.role, countThreshold, flagThreshold }
    })
    await tell('PUT', '/api/station', { ...stationBody(station), species })
    saved()
  }
  const fields = rows.flatMap((_, at) => [`species.${at}.countThreshold`, `species.${at}.flagThreshold`])
  return (
    <Form form={form} label={setupWords.parts.species} button={words.save} fields={fields} submit={submit}>
      <p class="hint">
        {words.hint} {words.marksHint}
      </p>
      <p>
        <a class="button" href="/how-right#marks">
          {words.evidence}
        </a>
      </p>
      {rows.map((row, at) => (
        <fieldset class="species-row" key={row.species}>
          <legend>
            <span class={`swatch swatch-${row.species}`} aria-hidden="true" />
            {speciesName(row.species)}
          </legend>
          <Choice
            label={words.role}
            name={`${row.species}-role`}
            value={row.role}
            choices={[
              { value: 'stock', words: words.stock },
              { value: 'feral', words: words.feral },
            ]}
            change={(role) => change(at, { role })}
          />
          <Field
            label={words.count}
            name={`species.${at}.countThreshold`}
            value={row.count}
            change={(count) => change(at, { count })}
            kind="number"
          />
          <Field
            label={words.flag}
            name={`species.${at}.flagThreshold`}
            value={row.flag}
            change={(flag) => change(at, { flag })}
            kind="number"
          />
        </fieldset>
      ))}
    </Form>
  )
}
