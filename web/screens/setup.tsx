/** Set-up: the station, its points, its cameras, its species, and how the service is. */
import { useEffect } from 'preact/hooks'
import type { Station } from '../../services/http/shapes.ts'
import { healthQuestion, pointsQuestion, stationQuestion } from '../api/questions.ts'
import { useAnswer } from '../api/use-answer.ts'
import { FailedNotice, Skeleton } from '../parts/notice.tsx'
import { RoomNotice } from '../parts/room-notice.tsx'
import { Screen } from '../parts/screen.tsx'
import { setupWords as words } from '../text/setup.ts'
import { AgainSetup } from './setup/again.tsx'
import { CameraSetup } from './setup/cameras.tsx'
import { HealthPart } from './setup/health.tsx'
import { KeepingSetup } from './setup/keeping.tsx'
import { MachineSetup } from './setup/machines.tsx'
import { PointSetup } from './setup/points.tsx'
import { SpeciesSetup } from './setup/species.tsx'
import { StationForm } from './setup/station.tsx'

const PARTS = ['station', 'points', 'cameras', 'species', 'again', 'machines', 'keeping', 'health'] as const

interface SetupProps {
  /** Tells the frame round the screens that the station is another one now. */
  readonly changed: () => void
}

export function SetupScreen({ changed }: SetupProps) {
  const { answer, failure, reload } = useAnswer(stationQuestion)
  const saved = () => {
    reload()
    changed()
  }
  const health = useAnswer(healthQuestion)
  const station = answer?.station ?? null
  const there = answer !== null
  // An address such as /setup#cameras is opened before its part is drawn, so the browser cannot scroll to it.
  useEffect(() => {
    if (there && location.hash !== '') document.getElementById(location.hash.slice(1))?.scrollIntoView()
  }, [there])
  return (
    <Screen title={answer !== null && station === null ? words.firstTitle : words.title} kind="setup">
      {answer === null && failure === null && <Skeleton shape="line" count={5} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {answer !== null && station === null && <p class="lead">{words.firstHint}</p>}
      {health.answer !== null && <RoomNotice room={health.answer.disk.room} />}
      {station !== null && (
        <nav class="contents" aria-label={words.contents}>
          {PARTS.map((part) => (
            <a href={`#${part}`} key={part}>
              {words.parts[part]}
            </a>
          ))}
        </nav>
      )}
      {answer !== null && <Parts station={station} saved={saved} />}
    </Screen>
  )
}

interface PartsProps {
  readonly station: Station | null
  readonly saved: () => void
}

function Parts({ station, saved }: PartsProps) {
  // Asked for once: a point just added is at hand for the camera that stands there.
  const points = useAnswer(station === null ? null : pointsQuestion)
  return (
    <>
      <section id="station" aria-labelledby="station-head">
        <h2 id="station-head">{words.parts.station}</h2>
        <StationForm station={station} saved={saved} key={station === null ? 'first' : 'later'} />
      </section>
      {station !== null && (
        <>
          <section id="points" aria-labelledby="points-head">
            <h2 id="points-head">{words.parts.points}</h2>
            <PointSetup points={points} />
          </section>
          <section id="cameras" aria-labelledby="cameras-head">
            <h2 id="cameras-head">{words.parts.cameras}</h2>
            <CameraSetup points={points.answer?.points ?? []} zone={station.zone} />
          </section>
          <section id="species" aria-labelledby="species-head">
            <h2 id="species-head">{words.parts.species}</h2>
            <SpeciesSetup station={station} saved={saved} />
          </section>
          <section id="again" aria-labelledby="again-head">
            <h2 id="again-head">{words.parts.again}</h2>
            <AgainSetup points={points.answer?.points ?? []} />
          </section>
          <section id="machines" aria-labelledby="machines-head">
            <h2 id="machines-head">{words.parts.machines}</h2>
            <MachineSetup />
          </section>
          <section id="keeping" aria-labelledby="keeping-head">
            <h2 id="keeping-head">{words.parts.keeping}</h2>
            <KeepingSetup />
          </section>
        </>
      )}
      <section id="health" aria-labelledby="health-head">
        <h2 id="health-head">{words.parts.health}</h2>
        <HealthPart />
      </section>
    </>
  )
}
