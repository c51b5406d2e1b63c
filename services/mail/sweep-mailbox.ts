/**
 * Everything new in a mailbox's folder, oldest first. A mail is flagged, filed or deleted once its photos are in the
 * ledger, and written down after that: killed anywhere between, it is taken again and its photos are known.
 */
import type { ImapFlow } from 'imapflow'
import type { SourcePlace } from '../sources/place.ts'
import { findCamera } from '../store/cameras.ts'
import {
  beginFolder,
  forgetMailsLeft,
  listMailsForAgain,
  listMailsLeft,
  recordLookedAgain,
  recordMail,
} from '../store/mail-progress.ts'
import type { AgainWhen } from '../store/mail-tables.ts'
import { listMailRules, type MailboxRow } from '../store/mailboxes.ts'
import { cameraOfMail, type MailRule } from './camera-of-mail.ts'
import { type ListedMail, listMailHeads } from './mail-heads.ts'
import { takeMail } from './take-mail.ts'

const HEADS_AT_ONCE = 100

export interface Swept {
  /** What could not be done with mails whose photos are safe; null where all was done. */
  readonly notice: string | null
}

export async function openFolder(
  session: ImapFlow,
  { folder, after_taking, file_to }: Pick<MailboxRow, 'folder' | 'after_taking' | 'file_to'>,
): Promise<void> {
  if (after_taking === 'file' && file_to !== null) await session.mailboxCreate(file_to)
  await session.mailboxOpen(folder)
}

/** The folder must be open. @throws Refusal where there is no room; whatever broke the connection */
export async function sweepMailbox(
  place: SourcePlace,
  session: ImapFlow,
  { mailboxId, shouldStop }: { readonly mailboxId: number; readonly shouldStop: () => boolean },
): Promise<Swept> {
  const { ledger } = place
  if (session.mailbox === false) throw new Error('no folder is open')
  const mailbox = await beginFolder(ledger, mailboxId, Number(session.mailbox.uidValidity))
  const rules = await rulesOf(place, mailboxId)
  // A server tells of mails that went away when it is asked for nothing (RFC 9051, section 7.5.1).
  await session.noop()
  await forgetGone(place, session, mailboxId)
  const hasOtherRules = mailbox.looked_generation !== mailbox.rules_generation
  const again = await listMailsForAgain(
    ledger,
    mailboxId,
    hasOtherRules ? ['soon', 'with other rules'] : ['soon'],
  )
  const found = await session.search({ uid: `${mailbox.last_uid + 1}:*` }, { uid: true })
  // Of `n:*` the last mail is always one, even where it is before n (RFC 9051, section 9, seq-range).
  const fresh = Array.isArray(found) ? found.filter((uid) => uid > mailbox.last_uid) : []
  const uids = [...again, ...fresh.sort((a, b) => a - b)]
  let notice: string | null = null
  for (let at = 0; at < uids.length; at += HEADS_AT_ONCE) {
    for (const mail of await listMailHeads(session, uids.slice(at, at + HEADS_AT_ONCE))) {
      if (shouldStop()) return { notice }
      notice = (await dealWith(place, session, { mailbox, rules, mail })) ?? notice
    }
  }
  if (hasOtherRules) await recordLookedAgain(ledger, mailboxId, mailbox.rules_generation)
  return { notice }
}

export async function rulesOf({ ledger }: SourcePlace, mailboxId: number): Promise<MailRule[]> {
  const rows = await listMailRules(ledger, mailboxId)
  return rows.map(({ camera_id, kind, words }) => ({ cameraId: camera_id, kind, words }))
}

export const FITS_NO_CAMERA = 'fits no camera'
export const FITS_SEVERAL = 'fits more than one camera'

/** @returns what could not be done with it, if anything */
async function dealWith(
  place: SourcePlace,
  session: ImapFlow,
  {
    mailbox,
    rules,
    mail,
  }: { readonly mailbox: MailboxRow; readonly rules: readonly MailRule[]; readonly mail: ListedMail },
): Promise<string | null> {
  const { ledger } = place
  const record = (reason: string | null, again: AgainWhen, newPhotos = 0) =>
    recordMail(ledger, {
      mailboxId: mailbox.id,
      uid: mail.uid,
      left:
        reason === null
          ? null
          : { sender: mail.senders[0] ?? '', subject: mail.subject, at: mail.at, reason, again },
      newPhotos,
    })
  const fit = cameraOfMail(mail, rules)
  if (fit.kind !== 'camera') {
    await record(fit.kind === 'none' ? FITS_NO_CAMERA : FITS_SEVERAL, 'with other rules')
    return null
  }
  const camera = await findCamera(ledger, fit.cameraId)
  const { stills, reason, waits } = await takeMail(place, session, { mail, camera })
  const notice = reason === null ? await putAway(session, mailbox, mail.uid) : null
  const fresh = stills.filter(({ known }) => !known)
  await record(reason, waits ? 'soon' : 'never', fresh.length)
  return notice
}

/** @returns why the mail stayed where it was, if it did */
async function putAway(
  session: ImapFlow,
  { after_taking, file_to, folder }: MailboxRow,
  uid: number,
): Promise<string | null> {
  const range = String(uid)
  const byUid = { uid: true }
  if (after_taking === 'flag') {
    const done = await session.messageFlagsAdd(range, ['\\Flagged', '\\Seen'], byUid)
    return done ? null : `Photos were taken, but mails in "${folder}" could not be flagged.`
  }
  if (after_taking === 'delete') {
    const done = await session.messageDelete(range, byUid)
    return done ? null : `Photos were taken, but mails in "${folder}" could not be deleted.`
  }
  const done = file_to === null ? false : await session.messageMove(range, file_to, byUid)
  return done === false ? `Photos were taken, but mails could not be filed into "${file_to}".` : null
}

async function forgetGone({ ledger }: SourcePlace, session: ImapFlow, mailboxId: number): Promise<void> {
  const known = await listMailsLeft(ledger, mailboxId)
  if (known.length === 0) return
  const there = await session.search({ uid: known.join(',') }, { uid: true })
  if (!Array.isArray(there)) return
  const isThere = new Set(there)
  await forgetMailsLeft(
    ledger,
    mailboxId,
    known.filter((uid) => !isThere.has(uid)),
  )
}
