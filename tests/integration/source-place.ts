/** A small station whose sources are looked at when a test says so, with a clock that the test sets. No eye, no HTTP. */
import { mkdir, mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { openAllowance } from '../../services/intake/allowance.ts'
import { openIntakeDesk } from '../../services/intake/desk.ts'
import { logOfLines } from '../../services/log.ts'
import type { SourcePlace } from '../../services/sources/place.ts'
import { openSources, type Sources, type Tried } from '../../services/sources/run-sources.ts'
import { parseInstant } from '../../services/station-time.ts'
import { openDiskRoom } from '../../services/store/disk-room.ts'
import { addSource, readSource, type SourceOfCamera } from '../../services/store/sources.ts'
import { openStillFolder } from '../../services/store/still-folder.ts'
import type { Instant, SourceKindName } from '../../services/words.ts'
import { openSmallStation, type SmallStation } from './small-station.ts'

export interface SourceStation extends SmallStation {
  /** A throwaway folder, the root of drop folders. */
  readonly root: string
  readonly log: readonly string[]
  readonly place: SourcePlace
  now(): Instant
  pass(seconds: number): void
  /** Adds a source of the first camera's, or of another's. */
  add(kind: SourceKindName, settings: object, cameraId?: number): Promise<number>
  round(): Promise<void>
  tryNow(sourceId: number): Promise<Tried>
  source(sourceId: number): Promise<SourceOfCamera>
  /** What a restart does to what is only in memory. */
  restart(): Promise<void>
  /** What the ledger holds, oldest first. */
  stills(): Promise<Array<{ camera_id: number; file_name: string | null; bytes: number; taken_from: string }>>
}

export async function openSourceStation(change: Partial<SourcePlace> = {}): Promise<SourceStation> {
  const station = await openSmallStation()
  const folder = await mkdtemp(join(tmpdir(), 'hooftally-sources-'))
  const root = join(folder, 'drop')
  await mkdir(root)
  const files = await openStillFolder(join(folder, 'stills'))
  let now = parseInstant('2026-11-25T06:10:00+10:30')
  const log: string[] = []
  const freshPlace = (): SourcePlace => ({
    ledger: station.ledger,
    intake: { desk: openIntakeDesk(station.ledger), files, onReceived: () => undefined },
    allowance: openAllowance(),
    room: openDiskRoom([folder], 0),
    metrics: { taken: () => undefined },
    now: () => now,
    log: logOfLines((line) => log.push(line)),
    dropRoots: [root],
    cameraHosts: [],
    ...change,
  })
  let place = freshPlace()
  let sources: Sources = openSources(place)
  const source = async (sourceId: number) => (await readSource(station.ledger, sourceId))!
  return {
    ...station,
    root,
    log,
    get place() {
      return place
    },
    now: () => now,
    pass(seconds) {
      now = (now + seconds * 1_000) as Instant
    },
    async add(kind, settings, cameraId = station.cameraIds[0]) {
      const row = await addSource(station.ledger, { cameraId, kind, settings, isOn: true })
      return row.id
    },
    round: () => sources.round(),
    async tryNow(sourceId) {
      const tried = await sources.tryNow(sourceId)
      if (tried === null) throw new Error(`there is no source ${sourceId}`)
      return tried
    },
    source,
    async restart() {
      await sources.stop()
      place = freshPlace()
      sources = openSources(place)
    },
    stills: () =>
      station.ledger
        .selectFrom('stills')
        .select(['camera_id', 'file_name', 'bytes', 'taken_from'])
        .orderBy('id')
        .execute(),
    async close() {
      await sources.stop()
      await station.close()
      await rm(folder, { recursive: true, force: true })
    },
  }
}
