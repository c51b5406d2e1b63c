/** Sets the demo station up through the same functions that Set-up uses: settings, points, cameras, states. */
import { cameraDoor, pointDoor, stationDoor } from '../http/doors.ts'
import { parseInstant } from '../station-time.ts'
import { addCamera } from '../store/camera-setup.ts'
import { listCameras } from '../store/cameras.ts'
import { toInstant } from '../store/instants.ts'
import type { Ledger } from '../store/open.ts'
import { addPointState, listPointStates } from '../store/point-states.ts'
import { putPoints } from '../store/points.ts'
import { saveSettings } from '../store/settings.ts'
import type { Instant, Thresholds, Zone } from '../words.ts'
import { demoSpell } from './days.ts'
import type { Chapter } from './saved-plan.ts'
import { demoStates } from './states.ts'
import { demoCameraInput, demoPointInput, demoPoints, demoStation } from './station.ts'

/** Safe to do again: what is there is left and only later states are added, so a start that was killed goes on. */
export async function setUpDemo(ledger: Ledger, chapter: Chapter, defaults: Thresholds): Promise<void> {
  const { species = [], zone, ...station } = stationDoor.parse(demoStation)
  await saveSettings(ledger, { ...station, zone: zone as Zone, species, demo: true }, defaults)
  const { added, changed } = await putPoints(
    ledger,
    demoPoints.map((demoPoint) => {
      const point = pointDoor.parse(demoPointInput(demoPoint))
      return { whenNew: point, given: point }
    }),
  )
  const rows = [...added, ...changed]
  const known = new Set((await listCameras(ledger)).map((camera) => camera.name))
  const since: Instant = demoSpell(chapter).from
  for (const point of demoPoints) {
    const pointId = rows.find((row) => row.name === point.name)!.id
    if (known.has(point.camera.name)) continue
    const { since: putUpAt, ...camera } = cameraDoor.parse(demoCameraInput(point, { pointId, since }))
    await addCamera(ledger, camera, putUpAt === undefined ? null : parseInstant(putUpAt))
  }
  await addStates(ledger, chapter, rows)
}

async function addStates(
  ledger: Ledger,
  chapter: Chapter,
  rows: ReadonlyArray<{ readonly id: number; readonly name: string }>,
): Promise<void> {
  for (const point of demoPoints) {
    const pointId = rows.find((row) => row.name === point.name)!.id
    const [latest] = await listPointStates(ledger, pointId, 1)
    const states = demoStates(chapter)
      .filter((state) => state.pointKey === point.key)
      .filter(({ at }) => chapter.since === null || at > chapter.since)
      .filter(({ at }) => latest === undefined || at > toInstant(latest.at))
    for (const { kind, at, source, levelPercent, note } of states.toReversed()) {
      await addPointState(ledger, { pointId, kind, at, source, levelPercent, note })
    }
  }
}
