/** All parts of a station's Set-up, most used first, in groups; those that only some need are folded until opened. */
import type { ComponentChildren } from 'preact'
import { useEffect, useState } from 'preact/hooks'
import { useLocation } from 'preact-iso'
import type { Health, Station } from '../../../services/http/shapes.ts'
import { camerasQuestion, pointsQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { setupWords as words } from '../../text/setup.ts'
import { AgainSetup } from './again.tsx'
import { CameraSetup } from './cameras.tsx'
import { HealthPart } from './health.tsx'
import { HowRightPart } from './how-right.tsx'
import { KeepingSetup } from './keeping.tsx'
import { LimitsSetup } from './limits.tsx'
import { MachineSetup } from './machines.tsx'
import { MailSetup } from './mail.tsx'
import { OwnAnimalSetup } from './own-animals.tsx'
import { FoldedPart, Part, type PartName } from './part.tsx'
import { PastCountSetup } from './past-counts.tsx'
import { PointSetup } from './points.tsx'
import { RatingSetup } from './ratings.tsx'
import { SpeciesSetup } from './species.tsx'
import { StationForm } from './station.tsx'
import { TrackSetup } from './tracks.tsx'
import { TrapVisitSetup } from './trap-visits.tsx'

const CONTENTS: readonly PartName[] = [
  'points',
  'cameras',
  'tracks',
  'mail',
  'species',
  'ratings',
  'traps',
  'howRight',
  'ownAnimals',
  'station',
  'pastCounts',
  'keeping',
  'limits',
  'again',
  'health',
  'machines',
]

interface PartsProps {
  readonly station: Station
  readonly progress: Health['progress'] | null
  readonly saved: () => void
}

export function Parts({ station, progress, saved }: PartsProps) {
  // Asked for once: a point just added is at hand for the camera that stands there.
  const points = useAnswer(pointsQuestion)
  const cameras = useAnswer(camerasQuestion)
  const [turned, setTurned] = useState<Partial<Record<PartName, boolean>>>({})
  const turn = (part: PartName, open: boolean) => setTurned((before) => ({ ...before, [part]: open }))
  const settled = [points, cameras].every(({ answer, failure }) => answer !== null || failure !== null)
  const show = useShownPart(settled, (part) => turn(part, true))
  const pointList = points.answer?.points ?? []
  const underWay = progress !== null && (progress.again !== null || progress.recount !== null)
  const folded = (name: keyof typeof words.folded, inside: ComponentChildren, open = false) => (
    <FoldedPart name={name} open={turned[name] ?? open} turned={(now) => turn(name, now)}>
      {inside}
    </FoldedPart>
  )
  return (
    <>
      <nav class="contents" aria-label={words.contents}>
        <ul>
          {CONTENTS.map((part) => (
            <li key={part}>
              <a href={`#${part}`} onClick={() => show(part)}>
                {words.parts[part]}
              </a>
            </li>
          ))}
        </ul>
      </nav>
      <h2>{words.groups.waters}</h2>
      <Part name="points">
        <PointSetup points={points} />
      </Part>
      <Part name="cameras">
        <CameraSetup cameras={cameras} points={pointList} zone={station.zone} />
      </Part>
      {folded('tracks', <TrackSetup points={pointList} />)}
      {folded('mail', <MailSetup cameras={cameras.answer?.cameras ?? []} />)}
      <h2>{words.groups.counting}</h2>
      {folded('species', <SpeciesSetup station={station} saved={saved} />)}
      {folded('ratings', <RatingSetup />)}
      {folded('traps', <TrapVisitSetup />)}
      <Part name="howRight">
        <HowRightPart />
      </Part>
      {folded('ownAnimals', <OwnAnimalSetup />)}
      {folded('station', <StationForm station={station} saved={saved} />)}
      {folded('pastCounts', <PastCountSetup />)}
      <h2>{words.groups.photos}</h2>
      {folded('keeping', <KeepingSetup />)}
      {folded('limits', <LimitsSetup />)}
      {folded('again', <AgainSetup points={pointList} />, underWay)}
      <h2>{words.groups.service}</h2>
      <Part name="health">
        <HealthPart />
      </Part>
      {folded('machines', <MachineSetup />)}
    </>
  )
}

/**
 * Opens a part and brings it into view: the one that the address names (`/setup#keeping`), or one that is asked for.
 * The browser itself looks for it too early: before the lists above it are there, and while it is folded.
 */
function useShownPart(settled: boolean, open: (part: PartName) => void): (part: PartName) => void {
  const { url } = useLocation()
  const [wanted, setWanted] = useState<{ readonly part: PartName } | null>(null)
  const show = (part: PartName) => {
    open(part)
    setWanted({ part })
  }
  useEffect(() => {
    const showAddressed = () => {
      const part = CONTENTS.find((name) => location.hash === `#${name}`)
      if (part !== undefined) show(part)
    }
    showAddressed()
    addEventListener('hashchange', showAddressed)
    return () => removeEventListener('hashchange', showAddressed)
  }, [url])
  useEffect(() => {
    if (settled && wanted !== null) document.getElementById(wanted.part)?.scrollIntoView()
  }, [settled, wanted])
  return show
}
