/** Ratings: what an animal drinks and eats, with where each number was found. */
import { useState } from 'preact/hooks'
import type { RatingAnswer } from '../../../services/http/pressure-shapes.ts'
import { SPECIES } from '../../../services/words.ts'
import { Failed, tell } from '../../api/ask.ts'
import { ratingsQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { Field, typedNumber } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { useForm } from '../../parts/use-form.ts'
import { speciesName } from '../../text/counts.ts'
import { ratingTitle, ratingWords as words } from '../../text/ratings.ts'

export function RatingSetup() {
  const { answer, failure, reload } = useAnswer(ratingsQuestion)
  if (failure !== null) return <FailedNotice failure={failure} again={reload} />
  if (answer === null) return <Skeleton shape="line" count={4} />
  return <RatingForm ratings={answer.ratings} saved={reload} />
}

interface Typed {
  readonly low: string
  readonly high: string
  readonly source: string
}

const typedOf = ({ low, high, source }: RatingAnswer): Typed => ({
  low: String(low),
  high: String(high),
  source,
})

interface RatingFormProps {
  readonly ratings: readonly RatingAnswer[]
  readonly saved: () => void
}

function RatingForm({ ratings, saved }: RatingFormProps) {
  const form = useForm()
  const [rows, setRows] = useState(() => ratings.map(typedOf))
  const change = (at: number, to: Partial<Typed>) =>
    setRows((before) => before.map((row, i) => (i === at ? { ...row, ...to } : row)))
  const submit = async () => {
    const changed = rows.flatMap((row, i) => (isChanged(row, ratings[i]!) ? [i] : []))
    if (changed.length === 0) return
    const sent = changed.map((i) => ({
      species: ratings[i]!.species,
      kind: ratings[i]!.kind,
      rating: ratingTyped(rows[i]!, ratings[i]!),
    }))
    const answer = await tell<{ ratings: RatingAnswer[] }>('PUT', '/api/ratings', { ratings: sent }).catch(
      (thrown: unknown) => {
        throw atItsField(thrown, changed)
      },
    )
    setRows(answer.ratings.map(typedOf))
    saved()
  }
  const fields = ratings.flatMap((_, i) => ['low', 'high', 'source'].map((end) => fieldName(i, end)))
  return (
    <Form form={form} label={words.save} button={words.save} fields={fields} submit={submit}>
      <p class="hint">{words.hint}</p>
      {SPECIES.map((species) => (
        <fieldset class="rating-species" key={species}>
          <legend>
            <span class={`swatch swatch-${species}`} aria-hidden="true" />
            {speciesName(species)}
          </legend>
          {ratings.map((rating, i) =>
            rating.species !== species ? null : (
              <fieldset class="rating-row" key={rating.kind}>
                <legend>{ratingTitle(rating)}</legend>
                {(['low', 'high', 'source'] as const).map((end) => (
                  <Field
                    label={words[end]}
                    name={fieldName(i, end)}
                    value={rows[i]![end]}
                    change={(value) => change(i, { [end]: value })}
                    kind={end === 'source' ? 'text' : 'number'}
                    key={end}
                  />
                ))}
              </fieldset>
            ),
          )}
        </fieldset>
      ))}
    </Form>
  )
}

const fieldName = (row: number, end: string) => `ratings.${row}.rating.${end}`

function isChanged(row: Typed, rating: RatingAnswer): boolean {
  const before = typedOf(rating)
  return row.low !== before.low || row.high !== before.high || row.source !== before.source
}

/** Null: both ends are empty, and the usual rating is wanted back. */
function ratingTyped(row: Typed, before: RatingAnswer) {
  if (row.low.trim() === '' && row.high.trim() === '') return null
  const moved = typedNumber(row.low) !== before.low || typedNumber(row.high) !== before.high
  // Another number is not what the old source says.
  const source = moved && row.source === before.source ? words.ownSource : row.source
  return { low: typedNumber(row.low), high: typedNumber(row.high), source }
}

/** The service counts the ratings that were sent; the form has a field for each there is. */
function atItsField(thrown: unknown, sent: readonly number[]): unknown {
  if (!(thrown instanceof Failed) || thrown.failure.field === null) return thrown
  const [, place, end] = /^ratings\.(\d+)\.rating\.(\w+)$/.exec(thrown.failure.field) ?? []
  if (place === undefined || end === undefined) return thrown
  return new Failed({ ...thrown.failure, field: fieldName(sent[Number(place)] ?? 0, end) })
}
