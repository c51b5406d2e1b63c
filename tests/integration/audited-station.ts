/** A made-up week of which the truth is known: what came, what the machine made of it, and a person who says what came. */
import { listOpenLooks, recordLookWords } from '../../services/store/audit-looks.ts'
import type { Ledger } from '../../services/store/open.ts'
import { nightSpell } from '../../services/tally/nights.ts'
import { weekOf } from '../../services/tally/weeks.ts'
import type { Instant, NightDate, Tally } from '../../services/words.ts'
import { openSmallStation, receiveAll, record, type SmallStation, zone } from './small-station.ts'

const HOUR_MS = 3_600_000
export const WEEK = weekOf('2026-11-16' as NightDate)
/** On the Monday after it, in the afternoon. */
export const MONDAY = (nightSpell(WEEK.to, zone).to + 2 * HOUR_MS) as Instant

export type Kind = 'right' | 'false flag' | 'missed' | 'cattle' | 'empty'

/** Of eight photos, each an hour from the next and so a look of its own, this many of each. */
const KINDS: readonly Kind[] = ['right', 'false flag', 'missed', 'cattle', 'empty', 'empty', 'empty', 'empty']
const MACHINE: Readonly<Record<Kind, Tally>> = {
  right: { camel: 1 },
  'false flag': { camel: 1 },
  missed: {},
  cattle: { cattle: 2 },
  empty: {},
}
const TRUTH: Readonly<Record<Kind, Tally>> = {
  right: { camel: 1 },
  'false flag': {},
  missed: { camel: 2 },
  cattle: { cattle: 2 },
  empty: {},
}
export const PHOTOS = 160

export interface AuditedStation extends SmallStation {
  /** By photo. */
  readonly kinds: ReadonlyMap<number, Kind>
  truthOf(stillId: number): Tally
  idsOf(kind: Kind): number[]
}

/** In 160 looks 20 camels are flagged, 20 flags are false, 20 looks with two camels each are missed, 20 are plain cattle. */
export async function openAuditedStation(): Promise<AuditedStation> {
  const station = await openSmallStation()
  const from = nightSpell(WEEK.from, zone).from
  const received = await receiveAll(
    station,
    Array.from({ length: PHOTOS }, (_, i) => ({
      name: `photo ${i}`,
      cameraId: station.cameraIds[i % 2]!,
      at: (from + (i + 0.5) * HOUR_MS) as Instant,
    })),
  )
  const kinds = new Map(received.map(({ id }, i) => [id, KINDS[i % KINDS.length]!]))
  for (const [id, kind] of kinds) await record(station, id, MACHINE[kind], kind === 'false flag' ? 0.6 : 0.9)
  return {
    ...station,
    kinds,
    truthOf: (stillId) => TRUTH[kinds.get(stillId)!],
    idsOf: (kind) => [...kinds].filter(([, one]) => one === kind).map(([id]) => id),
  }
}

/** A person looks at `most` of the looks that wait, and says what came. @returns how many looks had a word */
export async function lookBlindly(
  { ledger, truthOf }: { readonly ledger: Ledger; truthOf(stillId: number): Tally },
  most = Number.POSITIVE_INFINITY,
): Promise<number> {
  let said = 0
  for (;;) {
    const [look] = (await listOpenLooks(ledger, 1)).looks
    if (look === undefined || said >= most) return said
    const words = look.photos.map(({ id }) => ({ stillId: id, counts: truthOf(id) }))
    await recordLookWords(ledger, { lookId: look.id, words, who: 'Ash', at: MONDAY })
    said += 1
  }
}
