/** A try of a mailbox for who sets it up: its latest mails, whose each is, and the photos of the first that fits. */
import type { ImapFlow } from 'imapflow'
import type { SourcePlace } from '../sources/place.ts'
import { findCamera } from '../store/cameras.ts'
import { recordTriedPhotos } from '../store/mail-progress.ts'
import type { MailboxRow } from '../store/mailboxes.ts'
import type { ReceivedStill } from '../store/receive.ts'
import type { Instant } from '../words.ts'
import { cameraOfMail, type MailRule } from './camera-of-mail.ts'
import { shownCertificate } from './certificate.ts'
import { mailFaultOf } from './mail-fault.ts'
import { type ListedMail, listMailHeads } from './mail-heads.ts'
import { openMailSession } from './mail-session.ts'
import { FITS_NO_CAMERA, FITS_SEVERAL, rulesOf } from './sweep-mailbox.ts'
import { takeMail } from './take-mail.ts'

const MAILS_SHOWN = 5

export interface TriedMail {
  readonly sender: string
  readonly subject: string
  readonly at: Instant | null
  readonly cameraId: number | null
  /** Why no photo of it was taken; null where one was, or where it was not tried. */
  readonly reason: string | null
  readonly stills: readonly ReceivedStill[]
}

export interface TriedMailbox {
  /** Null: the server answered, let us in and has the folder. */
  readonly fault: { readonly reason: string; readonly remedy: string } | null
  /** In the folder. */
  readonly mails: number
  /** Latest first. */
  readonly latest: readonly TriedMail[]
}

/** Nothing in the mailbox is changed, and what was read of it stays as it was. */
export async function tryMailbox(place: SourcePlace, row: MailboxRow): Promise<TriedMailbox> {
  let session: ImapFlow | null = null
  try {
    session = await openMailSession(row)
    const { exists } = await session.mailboxOpen(row.folder, { readOnly: true })
    const uids = exists === 0 ? [] : await latestUids(session, exists)
    const heads = (await listMailHeads(session, uids)).reverse()
    const rules = await rulesOf(place, row.id)
    const latest: TriedMail[] = []
    for (const mail of heads) {
      const isTaken = latest.some(({ stills }) => stills.length > 0)
      latest.push(await tryMail(place, session, { mail, rules, takes: !isTaken }))
    }
    const fresh = latest.flatMap(({ stills }) => stills.filter(({ known }) => !known))
    await recordTriedPhotos(place.ledger, row.id, fresh.length)
    return { fault: null, mails: exists, latest }
  } catch (thrown) {
    const { reason, remedy } = mailFaultOf(thrown, { ...row, shownSha256: await shownBy(row, thrown) })
    return { fault: { reason, remedy }, mails: 0, latest: [] }
  } finally {
    session?.close()
  }
}

async function latestUids(session: ImapFlow, exists: number): Promise<number[]> {
  const first = Math.max(1, exists - MAILS_SHOWN + 1)
  return (await session.fetchAll(`${first}:*`, { uid: true })).map(({ uid }) => uid)
}

async function tryMail(
  place: SourcePlace,
  session: ImapFlow,
  {
    mail,
    rules,
    takes,
  }: { readonly mail: ListedMail; readonly rules: readonly MailRule[]; readonly takes: boolean },
): Promise<TriedMail> {
  const told = { sender: mail.senders[0] ?? '', subject: mail.subject, at: mail.at }
  const fit = cameraOfMail(mail, rules)
  if (fit.kind !== 'camera') {
    const reason = fit.kind === 'none' ? FITS_NO_CAMERA : FITS_SEVERAL
    return { ...told, cameraId: null, reason, stills: [] }
  }
  const { cameraId } = fit
  if (!takes) return { ...told, cameraId, reason: null, stills: [] }
  const camera = await findCamera(place.ledger, cameraId)
  const { stills, reason } = await takeMail(place, session, { mail, camera })
  return { ...told, cameraId, reason, stills }
}

/** For a certificate that is not believed: which it is, so that its owner can compare. */
async function shownBy(row: MailboxRow, thrown: unknown): Promise<string | undefined> {
  const code = thrown instanceof Error && 'code' in thrown ? String(thrown.code) : ''
  if (row.security !== 'tls' || !/CERT|SIGNATURE|ALTNAME/.test(code)) return undefined
  return await shownCertificate(row).then(
    ({ sha256 }) => sha256,
    () => undefined,
  )
}
