/** The shapes of the answers about mailboxes. A password is in none of them. */
import { z } from 'zod'
import { AFTER_TAKING, MAIL_RULE_KINDS, MAIL_SECURITIES } from '../store/mail-tables.ts'
import { takenPhotoShape } from './taken-photo.ts'

const count = z.int().nonnegative()
const localTime = z.iso.datetime({ offset: true })

export const mailboxShape = z.object({
  id: z.int(),
  name: z.string(),
  host: z.string(),
  port: z.int(),
  security: z.enum(MAIL_SECURITIES),
  plainByOwner: z.boolean(),
  certificateSha256: z.string().nullable(),
  userName: z.string(),
  folder: z.string(),
  afterTaking: z.enum(AFTER_TAKING),
  fileTo: z.string().nullable(),
  pollMinutes: z.int(),
  isOn: z.boolean(),
  rules: z.array(
    z.object({
      cameraId: z.int(),
      cameraName: z.string(),
      kind: z.enum(MAIL_RULE_KINDS),
      words: z.string(),
    }),
  ),
  lastTryAt: localTime.nullable(),
  lastOkAt: localTime.nullable(),
  /** Null: the last try went well, or there was none. */
  lastReason: z.string().nullable(),
  /** Whose photos were taken. */
  mails: count,
  photos: count,
  /** Mails whose photos were not taken; they lie in the mailbox as they came. */
  left: z.object({
    count,
    latest: z.array(
      z.object({
        sender: z.string(),
        subject: z.string(),
        at: localTime.nullable(),
        reason: z.string(),
        /** When it is tried again by itself. */
        again: z.enum(['never', 'with other rules', 'soon']),
      }),
    ),
  }),
})
export type Mailbox = z.infer<typeof mailboxShape>

export const mailboxesAnswer = z.object({ mailboxes: z.array(mailboxShape) })
export const mailboxAnswer = z.object({ mailbox: mailboxShape })

export const mailboxTryAnswer = z.object({
  fault: z.object({ reason: z.string(), remedy: z.string() }).nullable(),
  /** In the folder. */
  mails: count,
  /** Latest first. */
  latest: z.array(
    z.object({
      sender: z.string(),
      subject: z.string(),
      at: localTime.nullable(),
      cameraId: z.int().nullable(),
      cameraName: z.string().nullable(),
      reason: z.string().nullable(),
      stills: z.array(takenPhotoShape),
    }),
  ),
})
export type MailboxTry = z.infer<typeof mailboxTryAnswer>
