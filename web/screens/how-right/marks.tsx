/** The marks of a species: what others would catch, miss and cost, and what they would have made of last week. */
import { useState } from 'preact/hooks'
import type { MarksAnswer } from '../../../services/http/evidence-shapes.ts'
import type { Station } from '../../../services/http/shapes.ts'
import { SPECIES, type Species } from '../../../services/words.ts'
import { tell } from '../../api/ask.ts'
import { marksQuestion, stationQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { Choice } from '../../parts/field.tsx'
import { FailedNotice, Skeleton, Spoken } from '../../parts/notice.tsx'
import { Slider } from '../../parts/slider.tsx'
import { useForm } from '../../parts/use-form.ts'
import { speciesName } from '../../text/counts.ts'
import { countStepWords, flagStepWords, howRightWords, marksFrom } from '../../text/how-right.ts'
import { percent } from '../../text/shares.ts'
import { stationBody } from '../setup/station.tsx'
import { MarkChart } from './mark-chart.tsx'
import { cheapestMark, marksNow, stepAt, withCount, withFlag } from './marks-desk.ts'

const words = howRightWords.marks
/** What a miss may cost, in false flags; ten looks for one missed animal is common practice, no source. */
const COSTS = [1, 2, 5, 10, 20, 50, 100] as const
const USUAL_COST = 10

export function Marks() {
  const station = useAnswer(stationQuestion)
  const feral = station.answer?.station?.species.find(({ role }) => role === 'feral')?.species
  const [chosen, setChosen] = useState<Species | null>(null)
  const species = chosen ?? feral ?? 'camel'
  const { answer, failure, reload } = useAnswer(marksQuestion(species))
  const failed = failure ?? station.failure
  return (
    <>
      <p class="hint">{words.hint}</p>
      <Choice
        label={words.species}
        name="species"
        value={species}
        choices={SPECIES.map((one) => ({ value: one, words: speciesName(one) }))}
        change={setChosen}
      />
      {failed !== null && <FailedNotice failure={failed} again={reload} />}
      {answer === null && failed === null && <Skeleton shape="line" count={4} />}
      {answer !== null && station.answer?.station && (
        <MarksOf
          answer={answer}
          station={station.answer.station}
          saved={() => {
            station.reload()
            reload()
          }}
          key={`${species} ${answer.flagThreshold} ${answer.countThreshold}`}
        />
      )}
    </>
  )
}

interface MarksOfProps {
  readonly answer: MarksAnswer
  readonly station: Station
  readonly saved: () => void
}

function MarksOf({ answer, station, saved }: MarksOfProps) {
  const { species, steps } = answer
  const form = useForm()
  const now = marksNow(answer)
  const [marks, setMarks] = useState(now)
  const [cost, setCost] = useState<number>(USUAL_COST)
  const cheapest = cheapestMark(steps, cost)
  const values = steps.map(({ mark }) => mark)
  const changed = marks.flag !== now.flag || marks.count !== now.count
  const save = () =>
    form.submit(async () => {
      const changedSpecies = station.species.map((one) =>
        one.species === species ? { ...one, flagThreshold: marks.flag, countThreshold: marks.count } : one,
      )
      await tell('PUT', '/api/station', { ...stationBody(station), species: changedSpecies })
      saved()
    })
  return (
    <div class="marks">
      <p>{marksFrom(answer)}</p>
      {cheapest !== null && <MarkChart species={species} steps={steps} chosen={marks.flag} />}
      <Slider
        label={words.flag}
        values={values}
        value={marks.flag}
        words={(mark) => `${percent(mark)}`}
        change={(flag) => setMarks((before) => withFlag(before, flag))}
      />
      <Lines lines={flagStepWords(stepAt(steps, marks.flag), stepAt(steps, now.flag), species)} />
      {cheapest !== null && (
        <>
          <Slider
            label={words.cost(species)}
            values={COSTS}
            value={cost}
            words={words.falseFlags}
            change={setCost}
          />
          <div class="button-row">
            <p>{words.cheapest(cheapest)}</p>
            <button
              type="button"
              class="button"
              disabled={marks.flag === cheapest}
              onClick={() => setMarks((before) => withFlag(before, cheapest))}
            >
              {words.take(cheapest)}
            </button>
          </div>
        </>
      )}
      <Slider
        label={words.count}
        values={values}
        value={marks.count}
        words={(mark) => `${percent(mark)}`}
        change={(count) => setMarks((before) => withCount(before, count))}
      />
      <Lines lines={countStepWords(stepAt(steps, marks.count), stepAt(steps, now.count), species)} />
      <div class="button-row">
        <button type="button" class="button button-strong" disabled={!changed || form.sending} onClick={save}>
          {words.save}
        </button>
        <button type="button" class="button" disabled={!changed} onClick={() => setMarks(now)}>
          {words.back}
        </button>
      </div>
      {form.failure !== null && <FailedNotice failure={form.failure} />}
      <Spoken words={form.saved ? words.saved : ''} />
    </div>
  )
}

function Lines({ lines }: { readonly lines: readonly string[] }) {
  return (
    <ul class="mark-lines" aria-live="polite">
      {lines.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  )
}
