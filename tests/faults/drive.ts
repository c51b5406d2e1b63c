/** A station at work while its processes are killed, one after another, at random; then the count of what is left. */
import { setTimeout as wait } from 'node:timers/promises'
import { type Random, randomFor } from '../../services/demo/random.ts'
import type { Victim } from './household.ts'
import { distinctPhotos } from './photos.ts'
import { startSending } from './senders.ts'
import { faultsOf, type Station } from './what-stands.ts'

/** A running station with what may be killed of it. */
export interface Household {
  readonly address: string
  readonly cameras: ReadonlyArray<{ readonly id: number; readonly key: string }>
  readonly victims: readonly Victim[]
  /** Stills that still wait to be looked at. */
  waiting(): Promise<number>
  /** For the count at the end. */
  station(): Promise<Pick<Station, 'ledger' | 'files'>>
  /** All that its programs have printed. */
  output(): string
  stop(): Promise<void>
}

export interface DriveOptions {
  readonly seed: number
  readonly kills: number
  readonly photos: number
  readonly log: (line: string) => void
}

export interface Driven {
  /** Times killed, by the victim's name. */
  readonly killed: Readonly<Record<string, number>>
  readonly acknowledged: number
  readonly repeats: number
  /** What was lost, doubled, miscounted or wrongly answered; nothing where all stands. */
  readonly faults: readonly string[]
}

const LANES = 8
const FIRST_PHOTO = Date.UTC(2026, 9, 1, 9)
const MINUTES_BETWEEN = 4
/** One photo in this many comes from a camera's old card. */
const OLD_ONE_IN = 10
const OLD_DAYS = 40
const SETTLED_WITHIN_MS = 240_000

/** @throws Error when the station does not come to rest after the last kill */
export async function drive(household: Household, options: DriveOptions): Promise<Driven> {
  const { seed, kills, log } = options
  const bytes = await distinctPhotos(options.photos, `seed ${seed}`)
  const random = randomFor(seed, 'photos')
  const photos = bytes.map((own, i) => {
    const old = random.whole(1, OLD_ONE_IN) === 1 ? OLD_DAYS * 86_400_000 : 0
    return {
      bytes: own,
      camera: random.pick(household.cameras),
      takenAt: new Date(FIRST_PHOTO + i * MINUTES_BETWEEN * 60_000 - old),
    }
  })
  const sent = startSending(photos, {
    address: household.address,
    random: randomFor(seed, 'senders'),
    lanes: LANES,
  })
  const killed = await killOften(household.victims, {
    kills,
    random: randomFor(seed, 'kills'),
    async untilAtWork(done, share) {
      const upTo = (photos.length * (done + 1)) / kills
      sent.release(Math.ceil(upTo))
      await sent.acknowledgedAtLeast(Math.floor(upTo - ((1 - share) * photos.length) / kills))
    },
    onKill: (name, done) =>
      log(`kill ${done} of ${kills}: ${name} (${sent.acknowledged.size} photos acknowledged)`),
  })
  sent.release(photos.length)
  await sent.over
  await rest(household)
  const station = await household.station()
  try {
    const faults = await faultsOf({ ...station, acknowledged: sent.acknowledged })
    return {
      killed,
      acknowledged: sent.acknowledged.size,
      repeats: sent.repeats(),
      faults: [...sent.wrong, ...faults],
    }
  } finally {
    await station.ledger.destroy()
  }
}

interface KillPlan {
  readonly kills: number
  readonly random: Random
  /** Photos come in, up to this share of those between two kills. */
  readonly untilAtWork: (done: number, share: number) => Promise<void>
  readonly onKill: (name: string, done: number) => void
}

/** Each time one victim, sometimes a second while the first is down. */
async function killOften(
  victims: readonly Victim[],
  { kills, random, untilAtWork, onKill }: KillPlan,
): Promise<Record<string, number>> {
  const killed: Record<string, number> = {}
  let done = 0
  while (done < kills) {
    await untilAtWork(done, random.next())
    await wait(random.whole(0, 60))
    const together = Math.min(random.whole(1, 5) === 1 ? 2 : 1, kills - done)
    const chosen = random.sample(victims, together)
    for (const victim of chosen) {
      await victim.kill()
      done += 1
      killed[victim.name] = (killed[victim.name] ?? 0) + 1
      onKill(victim.name, done)
    }
    await wait(random.whole(0, 250))
    // Each waits for what it needs: one after the other would wait for ever when the second is needed by the first.
    await Promise.all(chosen.map((victim) => victim.start()))
  }
  return killed
}

async function rest(household: Household): Promise<void> {
  const until = Date.now() + SETTLED_WITHIN_MS
  let left: number | null = null
  while (Date.now() < until) {
    left = await household.waiting().catch(() => null)
    if (left === 0) return
    await wait(250)
  }
  throw new Error(
    `photos still wait ${SETTLED_WITHIN_MS / 1000} s after the last kill: ${left ?? 'unknown how many'}`,
  )
}
