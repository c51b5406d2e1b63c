/** Set-up: the station first, then its points, its cameras, its species, and how the service is. */
import { healthQuestion, stationQuestion } from '../api/questions.ts'
import { useAnswer } from '../api/use-answer.ts'
import { FailedNotice, Skeleton } from '../parts/notice.tsx'
import { RoomNotice } from '../parts/room-notice.tsx'
import { Screen } from '../parts/screen.tsx'
import { setupWords as words } from '../text/setup.ts'
import { HealthPart } from './setup/health.tsx'
import { Part } from './setup/part.tsx'
import { Parts } from './setup/parts.tsx'
import { StationForm } from './setup/station.tsx'

interface SetupProps {
  /** Tells the frame round the screens that the station is another one now. */
  readonly changed: () => void
}

export function SetupScreen({ changed }: SetupProps) {
  const { answer, failure, reload } = useAnswer(stationQuestion)
  const health = useAnswer(healthQuestion)
  const saved = () => {
    reload()
    changed()
  }
  const first = answer !== null && answer.station === null
  return (
    <Screen title={first ? words.firstTitle : words.title} kind="setup">
      {answer === null && failure === null && <Skeleton shape="line" count={5} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {health.answer !== null && <RoomNotice room={health.answer.disk.room} />}
      {first && <FirstStation saved={saved} />}
      {answer !== null && answer.station !== null && (
        <Parts station={answer.station} progress={health.answer?.progress ?? null} saved={saved} />
      )}
    </Screen>
  )
}

function FirstStation({ saved }: { readonly saved: () => void }) {
  const done = () => {
    saved()
    // The form just sent goes away: keyboard and screen reader go on from the head of what comes in its place.
    document.querySelector<HTMLElement>('main h1')?.focus()
  }
  return (
    <>
      <p class="lead">{words.firstHint}</p>
      <Part name="station" level={2}>
        <StationForm station={null} saved={done} />
      </Part>
      <Part name="health" level={2}>
        <HealthPart />
      </Part>
    </>
  )
}
