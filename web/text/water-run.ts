/** The water run in words: what each point says, and the few lines that answer "is all well?". */
import type { WaterRunAnswer, WaterRunRow } from '../../services/http/shapes.ts'
import { cannotSeeWords } from './cannot-see.ts'
import { awayWords } from './cattle.ts'
import { list, plural } from './counts.ts'
import { age, clockOf, dateOf, dayName, lengthOf } from './times.ts'
import { trapTrouble } from './traps.ts'

/** How loudly a fact speaks; each has its own icon and word as well as its colour. */
export type Tone = 'well' | 'look' | 'alarm' | 'unknown' | 'plain'

export interface Fact {
  readonly tone: Tone
  readonly words: string
}

export const waterRunWords = {
  title: 'Water run',
  earlier: 'Earlier night',
  later: 'Later night',
  noPoints: {
    what: 'No points yet.',
    remedy: 'Add your bores, tanks and troughs in Set-up, or load them from a file.',
    action: 'Add points',
  },
  noPhoto: 'No photo yet',
  allWell: 'Nothing asks for a look.',
  setWater: 'Water here is',
  good: 'Good',
  low: 'Low',
  dry: 'Dry',
} as const

export function waterFact(water: WaterRunRow['water'], now: string): Fact {
  const level = water.levelPercent === null ? '' : ` ${Math.round(water.levelPercent)} %`
  const when = water.at === null ? '' : `, ${age(water.at, now)}`
  switch (water.state) {
    case 'good':
      return { tone: 'well', words: `Water good${level}${when}` }
    case 'low':
      return { tone: 'look', words: `Water low${level}${when}` }
    case 'dry':
      return { tone: 'alarm', words: `Water dry${level}${when}` }
    case 'off':
      return { tone: 'look', words: `Water off${when}` }
    case 'not seen':
      return {
        tone: 'unknown',
        words: water.at === null ? 'Water not seen' : `Water not seen for ${lengthOf(water.at, now)}`,
      }
  }
}

export function cameraFact(row: WaterRunRow, now: string): Fact {
  const silence = row.lastContactAt === null ? '' : `, last word ${age(row.lastContactAt, now)}`
  switch (row.camera) {
    case 'watching':
      return { tone: 'well', words: 'Camera watching' }
    case 'some down':
      return { tone: 'look', words: 'A camera is down' }
    case 'down':
      return { tone: 'alarm', words: `Camera down${silence}` }
    case 'cannot see':
      return { tone: 'alarm', words: cannotSeeWords(row.cannotSee) }
    case 'new':
      return { tone: 'unknown', words: 'Camera new, no photo yet' }
    case 'none':
      return { tone: 'unknown', words: 'No camera here' }
  }
}

/** `Battery of Kite camera: 34 %, flat about Tue 1 Dec`. */
export function batteryFact({ cameraName, percent, on }: WaterRunRow['batteries'][number]): Fact {
  const now = `Battery of ${cameraName}: ${Math.round(percent)} %`
  return on === null
    ? { tone: 'alarm', words: `${now}, flat` }
    : { tone: 'look', words: `${now}, flat about ${dayName(on)}` }
}

export function notFetchedFact({ cameraName, reason }: WaterRunRow['notFetched'][number]): Fact {
  return { tone: 'look', words: `Photos of ${cameraName} can’t be fetched: ${reason}` }
}

export function cattleFact(cattle: WaterRunRow['cattle'], now: string): Fact {
  switch (cattle.state) {
    case 'in':
      return {
        tone: 'well',
        words: cattle.lastSeenAt === null ? 'Cattle in' : `Cattle ${age(cattle.lastSeenAt, now)}`,
      }
    case 'not in':
      return {
        tone: 'alarm',
        words: cattle.lastSeenAt === null ? 'Not in to water' : notInFor(cattle.lastSeenAt, now),
      }
    case 'away':
      return { tone: 'plain', words: awayWords(cattle, now) }
    case 'not watched':
      return { tone: 'unknown', words: 'Cattle: not watched' }
    case 'never seen':
      return { tone: 'unknown', words: 'No cattle seen yet' }
  }
}

function notInFor(lastSeenAt: string, now: string): string {
  return `Not in to water: ${lengthOf(lastSeenAt, now)}`
}

/** `2 camel visits, at least 4`: the peak is the least number that was there. */
export function feralWords(seen: WaterRunRow['feral'][number]): string {
  return `${plural(seen.visits, `${seen.species} visit`)}, at least ${seen.peak}`
}

/** Something at a point that asks for a person, worst first. */
export interface Trouble {
  readonly rank: number
  readonly tone: Tone
  readonly words: string
  readonly pointIds: readonly number[]
}

/**
 * What asks for a look, worst first: head held that nobody visits, a set trap that nobody visits, water dry, no cattle in,
 * camera down or its battery flat, a trap to visit in time, water low, water off.
 */
export function troublesOf(answer: WaterRunAnswer): readonly Trouble[] {
  const troubles: Trouble[] = []
  for (const row of answer.rows) {
    const { name, id } = row.point
    const add = (rank: number, tone: Tone, words: string) =>
      troubles.push({ rank, tone, words, pointIds: [id] })
    const trap = row.trap === null ? null : trapTrouble(row.trap, { name, now: answer.now })
    if (trap !== null)
      add(row.trap?.held && row.trap.overdue ? -1 : trap.tone === 'alarm' ? 0 : 4, trap.tone, trap.words)
    if (row.water.state === 'dry') add(1, 'alarm', `Water dry at ${name}`)
    if (row.cattle.state === 'not in') {
      const since = row.cattle.lastSeenAt
      add(2, 'alarm', `No cattle in at ${name}${since === null ? '' : ` for ${lengthOf(since, answer.now)}`}`)
    }
    if (row.cattle.hanging !== null)
      add(2, 'alarm', `Cattle hanging on water at ${name}: see whether it runs`)
    if (row.camera === 'down') add(3, 'alarm', `Camera down at ${name}`)
    if (row.cannotSee.length > 0) add(3, 'alarm', `${cannotSeeWords(row.cannotSee)}, at ${name}`)
    if (row.unreadableRise) add(4, 'alarm', `More photos than usual could not be read at ${name}`)
    if (row.camera === 'some down') add(4, 'look', `A camera is down at ${name}`)
    for (const battery of row.batteries) {
      const { tone, words } = batteryFact(battery)
      add(battery.on === null ? 3 : 5, tone, battery.cameraName.includes(name) ? words : `${words} (${name})`)
    }
    if (row.water.state === 'low') add(5, 'look', `Water low at ${name}`)
    if (row.water.state === 'off') add(6, 'look', `Water off at ${name}`)
  }
  return troubles.sort((a, b) => a.rank - b.rank)
}

/** `All 10 points watched. 3 need a look.` */
export function headLine(answer: WaterRunAnswer): string {
  const of = answer.rows.length
  const watching = answer.rows.filter((row) => row.camera === 'watching' || row.camera === 'some down').length
  const look = new Set(troublesOf(answer).flatMap((trouble) => trouble.pointIds)).size
  const watched =
    watching === of ? `All ${plural(of, 'point')} watched.` : `${watching} of ${plural(of, 'point')} watched.`
  if (look === 0) return `${watched} ${waterRunWords.allWell}`
  return `${watched} ${look} ${look === 1 ? 'needs' : 'need'} a look.`
}

/** Points whose water nobody has spoken of; said in words beside the head line, because it is not "well". */
export function waterNotSeenLine(answer: WaterRunAnswer): string | null {
  const names = answer.rows.filter((row) => row.water.state === 'not seen').map((row) => row.point.name)
  if (names.length === 0) return null
  const where = names.length > 3 ? plural(names.length, 'point') : list(names)
  return `Water not seen in the last two days at ${where}. Cattle at the trough are not proof of water.`
}

/** `Photos in until 06:10` or, for a past night, when it ran. */
export function nightSpan(answer: WaterRunAnswer): string {
  const running = Date.parse(answer.now) < Date.parse(answer.nightTo)
  const from = `noon ${dayName(dateOf(answer.nightFrom))}`
  return running
    ? `${from} to now, ${clockOf(answer.now)}`
    : `${from} to noon ${dayName(dateOf(answer.nightTo))}`
}

/** A camera's last word of the day is hours old at any time, so a running night always lacks a little. */
const MOSTLY_WATCHED = 0.85

/** How much of the night was watched, where it was less than all of it. */
export function watchedWords(watched: number | null): string | null {
  if (watched === null) return null
  if (watched >= MOSTLY_WATCHED) return null
  if (watched <= 0) return 'Not watched this night'
  return `Watched ${Math.max(1, Math.round(watched * 100))} % of the night`
}
