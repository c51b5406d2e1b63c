/** One mail into the house: its photos through the one way in, or the reason why it is left as it came. */
import type { ImapFlow } from 'imapflow'
import { Refusal } from '../refusal.ts'
import { type SourcePlace, takeFetched } from '../sources/place.ts'
import type { CameraRow } from '../store/cameras.ts'
import type { ReceivedStill } from '../store/receive.ts'
import type { ListedMail } from './mail-heads.ts'
import { type MailPhotos, photosOfMail } from './mail-photos.ts'

/** Servers take mails of some 25 MB (common practice, no source); a larger one is held in memory by nobody's leave. */
const MOST_MAIL_BYTES = 60 * 1024 * 1024
const MOST_PHOTOS = 50

export interface TakenMail {
  readonly stills: readonly ReceivedStill[]
  /** Null: every photo in it is safe. */
  readonly reason: string | null
  /** Its camera has sent all it may for now: to be tried again by itself. */
  readonly waits: boolean
}

/** @throws Refusal where there is no room for more on the disk; whatever broke the connection */
export async function takeMail(
  place: SourcePlace,
  session: ImapFlow,
  { mail, camera }: { readonly mail: ListedMail; readonly camera: CameraRow },
): Promise<TakenMail> {
  const left = (reason: string): TakenMail => ({ stills: [], reason, waits: false })
  if (mail.bytes > MOST_MAIL_BYTES) return left(`larger than ${MOST_MAIL_BYTES / 1024 / 1024} MB`)
  // Before it is downloaded: over a slow link it would come in vain.
  await place.room.refuseIfFull(mail.bytes)
  const message = await session.fetchOne(String(mail.uid), { source: true }, { uid: true })
  if (message === false || message.source === undefined) return left('no longer in the mailbox')
  const read = await readOrReason(message.source)
  if (typeof read === 'string') return left(read)
  if (read.photos.length === 0) return left(noPhoto(read.leftOut))
  if (read.photos.length > MOST_PHOTOS) return left(`more than ${MOST_PHOTOS} photos in one mail`)
  return await takePhotos(place, { mail, camera, read })
}

async function takePhotos(
  place: SourcePlace,
  {
    mail,
    camera,
    read,
  }: { readonly mail: ListedMail; readonly camera: CameraRow; readonly read: MailPhotos },
): Promise<TakenMail> {
  const stills: ReceivedStill[] = []
  let reason: string | null = null
  for (const { bytes, fileName } of read.photos) {
    try {
      const mailAt = read.date ?? mail.at
      stills.push(
        await takeFetched(place, { camera, bytes, fileName, fileTime: null, senderAt: null, mailAt }),
      )
    } catch (fault) {
      if (!(fault instanceof Refusal)) throw fault
      if (fault.kind === 'too many') return { stills, reason: fault.message, waits: true }
      // The others of the mail are as good as without it.
      if (fault.kind !== 'too large') throw fault
      reason = fault.message
    }
  }
  return { stills, reason, waits: false }
}

/** What one sender wrote must not keep the next mails out. */
async function readOrReason(source: Buffer): Promise<MailPhotos | string> {
  try {
    return await photosOfMail(source)
  } catch (fault) {
    return `the mail could not be read (${fault instanceof Error ? fault.message : String(fault)})`
  }
}

function noPhoto(leftOut: number): string {
  return leftOut === 0
    ? 'no photo in it'
    : `no photo in it, but ${leftOut} other attachment${leftOut === 1 ? '' : 's'}`
}
