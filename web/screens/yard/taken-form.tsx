/** Head taken at a point: of what, how many, how, and what became of them. */
import type { YardFormAnswer } from '../../../services/http/yard-shapes.ts'
import { SPECIES } from '../../../services/words.ts'
import { Failed } from '../../api/ask.ts'
import { newUuid } from '../../api/uuid.ts'
import type { TakenWord } from '../../api/yard-entries.ts'
import { ButtonsChoice } from '../../parts/buttons-choice.tsx'
import { Choice, Field } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { speciesName } from '../../text/counts.ts'
import { licensedPeople, notOwnerless, onlyFitTravel } from '../../text/safety.ts'
import { fateChoices, yardWords as words } from '../../text/yard.ts'
import { type Clock, type TakenDraft, takenWordOf } from './drafts.ts'

interface TakenFormProps {
  readonly pointId: number
  readonly form: YardFormAnswer
  readonly start: TakenDraft
  readonly withdraws: string | null
  readonly clock: Clock
  readonly keep: (word: TakenWord) => void
  readonly cancel?: (() => void) | undefined
}

const SPECIES_CHOICES = SPECIES.map((value) => ({ value, words: speciesName(value) }))
const MORE = ['amount', 'unit', 'carrier', 'paper', 'note'] as const

export function TakenForm({ pointId, form: offered, start, withdraws, clock, keep, cancel }: TakenFormProps) {
  const form = useForm()
  const fields = useFields<TakenDraft>(start)
  const { typed } = offered
  const submit = async () => {
    const made = takenWordOf(fields.typed, { pointId, id: newUuid(), withdraws }, clock)
    if ('wrong' in made) throw new Failed(made.wrong)
    keep(made.word)
  }
  const programs = [
    { value: '', words: words.noProgram },
    ...offered.programs.map(({ id, name }) => ({ value: String(id), words: name })),
  ]
  const moreOpen = MORE.some((name) => start[name] !== '' || form.failure?.field === name)
  return (
    <Form
      form={form}
      label={words.takenHead}
      button={words.save}
      fields={fields.names}
      submit={submit}
      {...(cancel === undefined ? {} : { cancel })}
    >
      {programs.length > 1 && <Choice label={words.program} choices={programs} {...fields.of('program')} />}
      <Choice label={words.species} choices={SPECIES_CHOICES} {...fields.of('species')} />
      <Field label={words.head} hint={words.headHint} kind="number" required {...fields.of('head')} />
      <ButtonsChoice
        legend={words.fate}
        choices={fateChoices}
        value={fields.typed.fate}
        change={fields.of('fate').change}
      />
      <Field label={words.class} hint={words.classHint} choices={typed.classes} {...fields.of('class')} />
      <Field label={words.method} required choices={typed.methods} {...fields.of('method')} />
      <Field label={words.day} kind="date" {...fields.of('day')} />
      <details class="other-states" open={moreOpen}>
        <summary>{words.more}</summary>
        <div class="field-pair">
          <Field label={words.effort} hint={words.effortHint} kind="number" {...fields.of('amount')} />
          <Field label={words.unit} choices={typed.units} {...fields.of('unit')} />
          <Field label={words.carrier} choices={typed.carriers} {...fields.of('carrier')} />
          <Field label={words.paper} {...fields.of('paper')} />
          <Field label={words.note} {...fields.of('note')} />
        </div>
      </details>
      <div class="safety safety-calm">
        <div>
          <p>{notOwnerless}</p>
          <p>{onlyFitTravel}</p>
          <p>{licensedPeople}</p>
        </div>
      </div>
    </Form>
  )
}
