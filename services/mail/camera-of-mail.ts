/** Whose photos a mail brings: by the address it was sent to, by its subject, or by its sender. */
import type { MailRuleKind } from '../store/mail-tables.ts'

export interface MailRule {
  readonly cameraId: number
  readonly kind: MailRuleKind
  /** `tag`: what stands after the + of an address, or a whole address. `sender`: an address. `subject`: words in it. */
  readonly words: string
}

export interface MailHead {
  readonly subject: string
  /** Addresses in From and Sender. */
  readonly senders: readonly string[]
  /** Addresses it was sent or delivered to. */
  readonly recipients: readonly string[]
}

export type CameraOfMail =
  | { readonly kind: 'camera'; readonly cameraId: number }
  | { readonly kind: 'none' }
  /** In the order of their rules. */
  | { readonly kind: 'several'; readonly cameraIds: readonly number[] }

/** An address of its own is made for one camera; a subject tells cameras of one sender apart; a sender comes last. */
const ORDER: readonly MailRuleKind[] = ['tag', 'subject', 'sender']

const FITS: Readonly<Record<MailRuleKind, (words: string, mail: MailHead) => boolean>> = {
  tag: (words, { recipients }) => recipients.some((address) => isSentTo(address, words)),
  subject: (words, { subject }) => holdsWords(subject, words),
  sender: (words, { senders }) => senders.some((address) => plain(address) === plain(words)),
}

/** The camera by the first of tag, subject and sender that fits any; of subjects the longest words that fit. */
export function cameraOfMail(mail: MailHead, rules: readonly MailRule[]): CameraOfMail {
  for (const kind of ORDER) {
    const fitting = rules.filter((rule) => rule.kind === kind && FITS[kind](rule.words, mail))
    const longest = Math.max(...fitting.map(({ words }) => words.length))
    const best = kind === 'subject' ? fitting.filter(({ words }) => words.length === longest) : fitting
    const cameraIds = [...new Set(best.map(({ cameraId }) => cameraId))]
    if (cameraIds.length > 1) return { kind: 'several', cameraIds }
    if (cameraIds.length === 1) return { kind: 'camera', cameraId: cameraIds[0]! }
  }
  return { kind: 'none' }
}

const plain = (text: string) => text.trim().toLowerCase()

/** The detail of `user+detail@domain` (RFC 5233, section 4, with the usual separator), or the whole address. */
function isSentTo(address: string, words: string): boolean {
  if (words.includes('@')) return plain(address) === plain(words)
  const local = plain(address).replace(/@[^@]*$/, '')
  const plus = local.indexOf('+')
  return plus >= 0 && local.slice(plus + 1) === plain(words)
}

/** Whole words only: `Camera 1` is not in `Camera 12`. */
function holdsWords(subject: string, words: string): boolean {
  const isPart = (sign: string | undefined) => sign !== undefined && /[\p{L}\p{N}]/u.test(sign)
  const text = plain(subject)
  const sought = plain(words)
  if (sought === '') return false
  for (let at = text.indexOf(sought); at >= 0; at = text.indexOf(sought, at + 1)) {
    const cutsBefore = isPart(text[at - 1]) && isPart(sought[0])
    const cutsAfter = isPart(text[at + sought.length]) && isPart(sought.at(-1))
    if (!cutsBefore && !cutsAfter) return true
  }
  return false
}
