/** Grazing pressure: the week, point by species, against the weeks before. Prints to one or two A4 pages. */
import { useRoute } from 'preact-iso'
import type { PressureAnswer } from '../../services/http/pressure-shapes.ts'
import { SPECIES, type Species } from '../../services/words.ts'
import { pressureQuestion, withQuery } from '../api/questions.ts'
import { useAnswer } from '../api/use-answer.ts'
import { Icon } from '../parts/icon.tsx'
import { EmptyNotice, FailedNotice, Skeleton } from '../parts/notice.tsx'
import { Screen } from '../parts/screen.tsx'
import { failureWords } from '../text/failures.ts'
import { watchedLine, weekSpan, weekTitle, pressureWords as words } from '../text/pressure.ts'
import { notOwnerless, waterSafety } from '../text/safety.ts'
import { Changes } from './pressure/changes.tsx'
import { ChosenSpecies } from './pressure/chosen-species.tsx'
import { Gaps } from './pressure/gaps.tsx'
import { Hours } from './pressure/hours.tsx'
import { PointMap } from './pressure/map.tsx'
import { Matrix } from './pressure/matrix.tsx'
import { SpeciesNights } from './pressure/nights.tsx'
import { Notebook } from './pressure/notebook.tsx'
import { SpeciesNumbers } from './pressure/numbers.tsx'
import { WaterDrunk } from './pressure/water.tsx'

export function PressureScreen() {
  const { query } = useRoute()
  const { answer, failure, reload } = useAnswer(pressureQuestion(query.week ?? null))
  return (
    <Screen title={words.title} kind="pressure" aside={answer !== null && <Outputs answer={answer} />}>
      {answer === null && failure === null && <Skeleton shape="row" count={4} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {answer !== null && failure !== null && <p class="stale">{failureWords.stale}</p>}
      {answer !== null && (
        <>
          <WeekPicker answer={answer} species={query.species ?? null} />
          {answer.points.length === 0 ? (
            <EmptyNotice words={words.noPoints} href="/setup#points" />
          ) : (
            <Week answer={answer} chosen={chosenSpecies(answer, query.species)} />
          )}
        </>
      )}
    </Screen>
  )
}

/** The species the address names, else the feral one with the most visits. */
function chosenSpecies({ species, rows }: PressureAnswer, asked: string | undefined): Species | null {
  const named = SPECIES.find((name) => name === asked)
  if (named !== undefined) return named
  const seen = species.filter((one) => rows.some((row) => row.species === one.species))
  const most = (role: 'feral' | 'stock') =>
    seen.filter((one) => one.role === role).sort((a, b) => b.visits - a.visits)[0]
  return (most('feral') ?? most('stock'))?.species ?? null
}

function Outputs({ answer }: { readonly answer: PressureAnswer }) {
  const href = (part: string | null) => withQuery('/api/pressure.csv', { week: answer.week, part })
  return (
    <div class="button-row outputs">
      <button type="button" class="button" onClick={() => print()}>
        {words.print}
      </button>
      <a class="button" href={href(null)} download>
        {words.csv}
      </a>
      <a class="button button-bare" href={href('units')} download>
        {words.units}
      </a>
    </div>
  )
}

interface WeekPickerProps {
  readonly answer: PressureAnswer
  readonly species: string | null
}

function WeekPicker({ answer, species }: WeekPickerProps) {
  const href = (week: string) => withQuery('/pressure', { week, species })
  return (
    <nav class="night-picker" aria-label={words.week}>
      <a class="button button-square" href={href(answer.earlier)} aria-label={words.earlier}>
        <Icon name="left" />
      </a>
      <p>
        <strong>{weekTitle(answer.week)}</strong>
        <small>{weekSpan(answer)}</small>
      </p>
      {answer.later === null ? (
        <span class="button button-square button-off" aria-hidden="true">
          <Icon name="right" />
        </span>
      ) : (
        <a class="button button-square" href={href(answer.later)} aria-label={words.later}>
          <Icon name="right" />
        </a>
      )}
    </nav>
  )
}

function Week({ answer, chosen }: { readonly answer: PressureAnswer; readonly chosen: Species | null }) {
  return (
    <>
      <p class="paper-only">{answer.station}</p>
      <p class="small">{watchedLine(answer)}</p>
      <Changes answer={answer} />
      {chosen === null ? (
        <p>{words.nothingSeen}</p>
      ) : (
        <>
          <Matrix answer={answer} />
          <ChosenSpecies answer={answer} chosen={chosen} />
          <div class="two-columns pressure-pair">
            <SpeciesNights answer={answer} species={chosen} />
            <PointMap answer={answer} species={chosen} />
          </div>
          <SpeciesNumbers answer={answer} species={chosen} />
          <WaterDrunk answer={answer} />
          <Hours answer={answer} chosen={chosen} />
        </>
      )}
      <Notebook week={answer.week} />
      <Gaps answer={answer} />
      <footer class="pressure-foot">
        <p class="honesty">{words.least}</p>
        <p class="honesty">{waterSafety}</p>
        <p class="honesty">{notOwnerless}</p>
      </footer>
    </>
  )
}
