/** An invented station with a camel program: fewer camels at its point afterwards, more at the one next door. */
import { randomUUID } from 'node:crypto'
import { parseInstant } from '../../services/station-time.ts'
import { addCamera } from '../../services/store/camera-setup.ts'
import { type OutcomeWord, recordOutcomes } from '../../services/store/outcomes.ts'
import { addPoint } from '../../services/store/points.ts'
import { makeProgram } from '../../services/store/programs.ts'
import { nightsBetween } from '../../services/tally/nights.ts'
import type { Instant, NightDate, Tally } from '../../services/words.ts'
import { openSmallStation, receiveAll, record, type SmallStation } from './small-station.ts'

/** Four weeks before the program, its five nights, four weeks after. */
export const BEFORE = { from: '2026-09-22' as NightDate, to: '2026-10-19' as NightDate }
export const PROGRAM = { from: '2026-10-20' as NightDate, to: '2026-10-24' as NightDate }
export const AFTER = { from: '2026-10-25' as NightDate, to: '2026-11-21' as NightDate }
export const LATER = parseInstant('2026-11-23T13:00:00+10:30')

export interface WorkedStation extends SmallStation {
  /** Of its database. */
  readonly url: string
  /** The point of the program, one 15 km away, and one 60 km away. */
  readonly targetId: number
  readonly nearId: number
  readonly farId: number
  readonly programId: number
  /** So many camels at a point on these nights, at nine in the evening. */
  see(pointId: number, nights: readonly string[], tally?: Tally): Promise<void>
  take(words: readonly Partial<OutcomeWord>[]): Promise<void>
}

/** Every `n`th night. */
export const every = (n: number, { from, to }: { from: NightDate; to: NightDate }) =>
  nightsBetween(from, to).filter((_, i) => i % n === 0)

export async function openWorkedStation(): Promise<WorkedStation> {
  return await workedStation(await openSmallStation())
}

export async function workedStation(
  small: Awaited<ReturnType<typeof openSmallStation>>,
): Promise<WorkedStation> {
  const { ledger } = small
  const cameras = new Map<number, number>()
  const addWatched = async (name: string, km: number) => {
    const place = { lat: -28 + km / 110.85, lon: 134 }
    const { id } = await addPoint(ledger, {
      ...place,
      name,
      kind: 'bore',
      hasYard: false,
      lowMarkPercent: 40,
      dryMarkPercent: 5,
    })
    const { camera } = await addCamera(
      ledger,
      {
        name: `${name} camera`,
        pointId: id,
        zone: null,
        clockErrorSeconds: 0,
        expectedSilenceHours: 26,
        // It counts as watching from its first photo to its last.
        sendsHeartbeats: false,
        scheduleMinutes: null,
      },
      null,
    )
    cameras.set(id, camera.id)
    return id
  }
  const targetId = await addWatched('Target Bore', 0)
  const nearId = await addWatched('Near Tank', 15)
  const farId = await addWatched('Far Dam', 60)
  const see: WorkedStation['see'] = async (pointId, nights, tally = { camel: 3 }) => {
    const stills = nights.map((night) => ({
      name: `${pointId} ${night} ${JSON.stringify(tally)}`,
      cameraId: cameras.get(pointId)!,
      at: parseInstant(`${night}T21:00:00+10:30`),
    }))
    const received = await receiveAll({ ...small, pointId }, stills)
    for (const { id } of received) await record(small, id, tally)
  }
  for (const id of [targetId, nearId, farId]) await see(id, ['2026-09-21', '2026-11-22'], {})
  const expected = {
    head: { low: 2, rate: 3, high: 6 },
    nightsSeen: 20,
    nightsWatched: 28,
    largestGroup: 3,
    lastSeenAt: null,
    bestHours: null,
  }
  const program = await makeProgram(
    ledger,
    {
      name: 'Spring camels',
      species: 'camel',
      method: 'trap yard',
      fromNight: PROGRAM.from,
      toNight: PROGRAM.to,
      note: null,
    },
    {
      said: { at: parseInstant('2026-10-18T09:00:00+10:30'), who: 'Ada' },
      list: {
        nights: BEFORE,
        lines: [{ pointId: targetId, ranked: 1, byHand: false, note: null, expected }],
      },
    },
  )
  return {
    ...small,
    targetId,
    nearId,
    farId,
    programId: program.id,
    see,
    async take(words) {
      await recordOutcomes(ledger, {
        words: words.map((word) => ({ ...wholeWord(program.id, targetId), ...word }) as OutcomeWord),
        now: LATER as Instant,
      })
    },
  }
}

const wholeWord = (programId: number, pointId: number) => ({
  kind: 'taken',
  id: randomUUID(),
  programId,
  pointId,
  species: 'camel',
  day: PROGRAM.from,
  method: 'trap yard',
  head: 1,
  fate: 'trucked',
  class: null,
  effort: { amount: 1, unit: 'trap nights' },
  carrier: null,
  paper: null,
  note: null,
  who: 'Ada',
  withdraws: null,
})
