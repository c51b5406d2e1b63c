/**
 * The one way out for what is entered at a yard; it outlives every screen. What the service refuses is kept too, until the
 * person puts it right or throws it away: at a yard nobody writes anything down twice.
 */
import { type Failure, tell } from './ask.ts'
import { type OutboxState, openOutbox } from './outbox.ts'
import { openShelf } from './shelf.ts'
import { pathOf, type YardEntry } from './yard-entries.ts'

export interface NotTaken {
  readonly key: number
  readonly entry: YardEntry
  /** Why, in the service's words. */
  readonly why: Failure
}

const refusedShelf = openShelf<{ readonly entry: YardEntry; readonly why: Failure }>('yard refused')
let notTaken: readonly NotTaken[] = []
const hearers = new Set<() => void>()
const takenHearers = new Set<(entry: YardEntry) => void>()
const tellHearers = () => {
  for (const hearer of hearers) hearer()
}

const outbox = openOutbox<YardEntry, unknown>({
  send: (entry) => tell('POST', pathOf(entry), entry.body),
  shelf: openShelf('yard'),
  changed: tellHearers,
  taken: (entry) => {
    for (const hearer of takenHearers) hearer(entry)
  },
  keepRefused,
  later: (act, ms) => setTimeout(act, ms),
})

async function keepRefused(entry: YardEntry, why: Failure): Promise<void> {
  // A page that was closed in the middle sends it once more, and is refused once more.
  const known = JSON.stringify(entry)
  if ((await refusedShelf.all()).some(({ value }) => JSON.stringify(value.entry) === known)) return
  const key = await refusedShelf.put({ entry, why })
  notTaken = [...notTaken, { key, entry, why }]
  tellHearers()
}

void refusedShelf.all().then((kept) => {
  if (kept.length === 0) return
  const known = new Set(kept.map(({ key }) => key))
  notTaken = [
    ...kept.map(({ key, value }) => ({ key, ...value })),
    ...notTaken.filter(({ key }) => !known.has(key)),
  ]
  tellHearers()
})

addEventListener('online', () => outbox.sendNow())
addEventListener('beforeunload', (event) => {
  // The browser asks "leave the page?" in its own words: unsent entries would be lost.
  const { waiting, lasts } = outbox.state()
  if (waiting > 0 && !lasts) event.preventDefault()
})

export const sendYardNow = outbox.sendNow
export const yardWaiting = outbox.waiting
export const yardOut = (): OutboxState => outbox.state()
export const yardNotTaken = (): readonly NotTaken[] => notTaken

export function putYardEntry(entry: YardEntry): void {
  void outbox.put(entry)
}

/** Puts in what stands in the place of one that was not taken; that one goes once the new one is kept. */
export function putInstead(entry: YardEntry, notTakenKey: number): void {
  void outbox.put(entry).then(() => forgetNotTaken(notTakenKey))
}

/** Put right, or thrown away. */
export async function forgetNotTaken(key: number): Promise<void> {
  notTaken = notTaken.filter((one) => one.key !== key)
  tellHearers()
  await refusedShelf.remove(key)
}

/** `changed`: something was put in, waits, failed or went. */
export function hearYard(changed: () => void): () => void {
  hearers.add(changed)
  return () => hearers.delete(changed)
}

/** The service has it written down. */
export function hearYardTaken(taken: (entry: YardEntry) => void): () => void {
  takenHearers.add(taken)
  return () => takenHearers.delete(taken)
}
