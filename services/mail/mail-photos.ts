/** The photos in a mail (RFC 5322, RFC 2045 to 2049), found by what their bytes are; its text is not read. */
import { simpleParser } from 'mailparser'
import sharp from 'sharp'
import { fileKind } from '../picture-formats.ts'
import type { Instant } from '../words.ts'
import { mailDate } from './mail-date.ts'

export interface MailPhoto {
  readonly bytes: Buffer
  readonly fileName: string | null
}

export interface MailPhotos {
  /** The mail's own date; null where it has none that is a date. */
  readonly date: Instant | null
  readonly photos: readonly MailPhoto[]
  /** Attachments that are no photos, and pictures too small to be one. */
  readonly leftOut: number
}

/** A mark or a button that senders put below their mails; no camera takes so small a photo (common practice, no source). */
const MOST_BADGE_PX = 128
/** What says it is a photo is kept, whatever its bytes are, so that a broken one is seen. */
const SAYS_PHOTO_TYPE = /^image\/(jpe?g|pjpeg|png|webp)$/i
const SAYS_PHOTO_NAME = /\.(jpe?g|png|webp)$/i

/** Never throws for what a sender wrote: a mail that holds nothing readable has no photos. */
export async function photosOfMail(source: Buffer): Promise<MailPhotos> {
  const mail = await simpleParser(source, {
    skipHtmlToText: true,
    skipTextToHtml: true,
    skipImageLinks: true,
    skipTextLinks: true,
  })
  const photos: MailPhoto[] = []
  for (const { content, contentType, filename } of mail.attachments) {
    const fileName = filename?.replaceAll('\0', '') || null
    const isPicture = fileKind(content).kind === 'picture'
    const saysPhoto = SAYS_PHOTO_TYPE.test(contentType) || SAYS_PHOTO_NAME.test(fileName ?? '')
    if (isPicture ? !(await isBadge(content)) : saysPhoto) photos.push({ bytes: content, fileName })
  }
  // The parser's own reading gives this machine's time for a date that is none.
  const dateLine = mail.headerLines.find(({ key }) => key === 'date')?.line ?? ''
  return {
    date: mailDate(dateLine.replace(/^[^:]*:/, '')),
    photos,
    leftOut: mail.attachments.length - photos.length,
  }
}

async function isBadge(bytes: Buffer): Promise<boolean> {
  try {
    const { width, height } = await sharp(bytes, { limitInputPixels: false }).metadata()
    return width <= MOST_BADGE_PX && height <= MOST_BADGE_PX
  } catch {
    return false
  }
}
