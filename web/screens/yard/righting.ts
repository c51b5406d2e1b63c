/** An entry on its way to be put right: what was typed for it, and what the new one stands in the place of. */
import type { YardEntry } from '../../api/yard-entries.ts'
import type { NotTaken } from '../../api/yard-out.ts'
import { takenWords, trapEntryWords } from '../../text/yard.ts'
import { type TakenDraft, type TrapDraft, takenDraftOf, trapDraftOf } from './drafts.ts'
import type { Listed } from './entry-list.tsx'

interface Common {
  readonly pointId: number
  readonly withdraws: string | null
  /** Of one that the service did not take: it goes once the new one is kept. */
  readonly notTakenKey: number | null
  readonly words: string
}
export type Righting = Common &
  (
    | { readonly log: 'outcomes'; readonly draft: TakenDraft }
    | { readonly log: 'trap log'; readonly draft: TrapDraft }
  )

export function rightingOf(one: Listed, zone: string): Righting {
  const common = { pointId: one.entry.pointId, withdraws: one.entry.id, notTakenKey: null }
  return one.log === 'outcomes'
    ? { ...common, log: one.log, draft: takenDraftOf(one.entry), words: takenWords(one.entry) }
    : { ...common, log: one.log, draft: trapDraftOf(one.entry, zone), words: trapEntryWords(one.entry) }
}

/** Of one that waits: the new one stands in its place once both are sent. Null for what can't be typed again. */
export function rightingOfWaiting(entry: YardEntry, zone: string): Righting | null {
  const made = typedFor(entry, zone)
  return made === null ? null : { ...made.righting, withdraws: made.id }
}

/** Of one that was not taken: the new one stands where it was to stand. */
export function rightingOfNotTaken({ key, entry }: NotTaken, zone: string): Righting | null {
  const made = typedFor(entry, zone)
  return made === null ? null : { ...made.righting, notTakenKey: key }
}

function typedFor(entry: YardEntry, zone: string): { id: string; righting: Righting } | null {
  if (entry.to === 'outcomes') {
    const [word] = entry.body.words
    if (word?.kind !== 'taken') return null
    const common = { pointId: word.pointId, withdraws: word.withdraws ?? null, notTakenKey: null }
    const draft = takenDraftOf(word)
    return { id: word.id, righting: { ...common, log: entry.to, draft, words: takenWords(word) } }
  }
  if (entry.to === 'trap log') {
    const [word] = entry.body.words
    if (word === undefined || word.kind === 'withdrawn') return null
    const common = { pointId: word.pointId, withdraws: word.withdraws ?? null, notTakenKey: null }
    const draft = trapDraftOf(word, zone)
    return { id: word.id, righting: { ...common, log: entry.to, draft, words: trapEntryWords(word) } }
  }
  return null
}
