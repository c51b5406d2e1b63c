/** What was done with the trap: visited, set, opened, shut down, and what is inside afterwards. */
import { useState } from 'preact/hooks'
import { SPECIES } from '../../../services/words.ts'
import { Failed } from '../../api/ask.ts'
import { newUuid } from '../../api/uuid.ts'
import type { SaidTrapWord } from '../../api/yard-entries.ts'
import { ButtonsChoice } from '../../parts/buttons-choice.tsx'
import { Choice, Field } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { TrapSafety } from '../../parts/trap-safety.tsx'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { speciesName } from '../../text/counts.ts'
import { trapChoices, yardWords as words } from '../../text/yard.ts'
import { type Clock, type TrapDraft, trapWordOf } from './drafts.ts'

interface TrapFormProps {
  readonly pointId: number
  readonly start: TrapDraft
  readonly withdraws: string | null
  readonly classes: readonly string[]
  readonly clock: Clock
  readonly keep: (word: SaidTrapWord) => void
  readonly cancel?: (() => void) | undefined
}

const SPECIES_CHOICES = [
  { value: '', words: words.anySpecies },
  ...SPECIES.map((value) => ({ value, words: speciesName(value) })),
] as const

export function TrapForm({ pointId, start, withdraws, classes, clock, keep, cancel }: TrapFormProps) {
  const form = useForm()
  const fields = useFields<TrapDraft>(start)
  const { kind, held } = fields.typed
  const [timed, setTimed] = useState(start.at !== '')
  const inside = Number(held.trim().replace(',', '.')) > 0
  const submit = async () => {
    const made = trapWordOf(fields.typed, { pointId, id: newUuid(), withdraws }, clock)
    if ('wrong' in made) throw new Failed(made.wrong)
    keep(made.word)
  }
  return (
    <Form
      form={form}
      label={words.trapHead}
      button={words.save}
      fields={fields.names}
      submit={submit}
      {...(cancel === undefined ? {} : { cancel })}
    >
      <ButtonsChoice
        legend={words.trapDone}
        choices={trapChoices}
        value={kind}
        change={fields.of('kind').change}
      />
      <Field label={words.held} hint={words.heldHint} kind="number" {...fields.of('held')} />
      {inside && (
        <>
          <Choice label={words.heldSpecies} choices={SPECIES_CHOICES} {...fields.of('species')} />
          <Field label={words.class} hint={words.classHint} choices={classes} {...fields.of('class')} />
          <Field label={words.heldSince} kind="moment" {...fields.of('heldSince')} />
        </>
      )}
      {timed ? (
        <Field label={words.at} hint={words.atHint} kind="moment" {...fields.of('at')} />
      ) : (
        <div class="button-row yard-when">
          <p>{words.now}</p>
          <button type="button" class="button" onClick={() => setTimed(true)}>
            {words.otherTime}
          </button>
        </div>
      )}
      <Field label={words.note} {...fields.of('note')} />
      <TrapSafety calm={kind !== 'trap set' && !inside} />
    </Form>
  )
}
