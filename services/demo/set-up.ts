/** Sets the demo station up through the same functions that Set-up uses: settings, points, cameras, states. */
import { cameraDoor, pointDoor, stationDoor } from '../http/doors.ts'
import { parseInstant } from '../station-time.ts'
import { addCamera, listCameras } from '../store/cameras.ts'
import type { Ledger } from '../store/open.ts'
import { addPointState, listPointStates, putPoints } from '../store/points.ts'
import { saveSettings } from '../store/settings.ts'
import type { Instant, Thresholds, Zone } from '../words.ts'
import { type DemoPeriod, demoSpell } from './days.ts'
import { demoStates } from './states.ts'
import { demoCameraInput, demoPointInput, demoPoints, demoStation } from './station.ts'

/** Safe to do again: what is there already is left, so a start that was killed in the middle goes on. */
export async function setUpDemo(ledger: Ledger, period: DemoPeriod, defaults: Thresholds): Promise<void> {
  const { species = [], zone, ...station } = stationDoor.parse(demoStation)
  await saveSettings(ledger, { ...station, zone: zone as Zone, species, demo: true }, defaults)
  const { added, changed } = await putPoints(
    ledger,
    demoPoints.map((point) => pointDoor.parse(demoPointInput(point))),
  )
  const rows = [...added, ...changed]
  const known = new Set((await listCameras(ledger)).map((camera) => camera.name))
  const since: Instant = demoSpell(period).from
  for (const point of demoPoints) {
    const pointId = rows.find((row) => row.name === point.name)!.id
    if (known.has(point.camera.name)) continue
    const { since: putUpAt, ...camera } = cameraDoor.parse(demoCameraInput(point, { pointId, since }))
    await addCamera(ledger, camera, putUpAt === undefined ? null : parseInstant(putUpAt))
  }
  await addStates(ledger, period, rows)
}

async function addStates(
  ledger: Ledger,
  period: DemoPeriod,
  rows: ReadonlyArray<{ readonly id: number; readonly name: string }>,
): Promise<void> {
  for (const point of demoPoints) {
    const pointId = rows.find((row) => row.name === point.name)!.id
    if ((await listPointStates(ledger, pointId, 1)).length > 0) continue
    const states = demoStates(period).filter((state) => state.pointKey === point.key)
    for (const { kind, at, source, levelPercent, note } of states.toReversed()) {
      await addPointState(ledger, { pointId, kind, at, source, levelPercent, note })
    }
  }
}
