/** The shapes of what comes in about mailboxes. */
import { isIP } from 'node:net'
import { z } from 'zod'
import { AFTER_TAKING, MAIL_RULE_KINDS, MAIL_SECURITIES } from '../store/mail-tables.ts'

const MAX_INTEGER = 2_147_483_647
const hasNoNul = (value: string) => !value.includes('\0')
const noNul = { error: 'holds a NUL character' }
/** A line break in what is sent to a server would be a command of its own. */
const hasNoLine = (value: string) => !/[\r\n\0]/.test(value)
const oneLine = { error: 'holds more than one line' }
const name = z.string().trim().min(1).max(80).refine(hasNoNul, noNul)
const HOST = { error: 'not the name of a server, such as imap.example.org' }
/** RFC 1123, section 2.1, or an address. */
const host = z
  .string()
  .trim()
  .min(1, HOST)
  .max(253, HOST)
  .refine(
    (value) =>
      isIP(value) !== 0 || /^[a-z0-9]([a-z0-9-]*[a-z0-9])?(\.[a-z0-9]([a-z0-9-]*[a-z0-9])?)*$/i.test(value),
    HOST,
  )
const PORT = { error: 'not a port from 1 to 65535' }
const port = z.int(PORT).min(1, PORT).max(65_535, PORT)
const SHA256 = { error: 'not a SHA-256: 64 digits from 0 to 9 and a to f, with or without colons' }
const certificateSha256 = z
  .string()
  .transform((value) => value.replaceAll(/[:\s]/g, '').toLowerCase())
  .refine((value) => /^[0-9a-f]{64}$/.test(value), SHA256)
  .nullable()
const folder = z.string().trim().min(1).max(200).refine(hasNoLine, oneLine)
const secret = z.string().min(1).max(500).refine(hasNoLine, oneLine)
const pollMinutes = z.int().min(1).max(1_440)
const rules = z
  .array(
    z.strictObject({
      cameraId: z.int().positive().max(MAX_INTEGER),
      kind: z.enum(MAIL_RULE_KINDS),
      words: z.string().trim().min(1).max(200).refine(hasNoLine, oneLine),
    }),
  )
  .max(500)

const required = {
  name,
  host,
  userName: secret,
  password: secret,
}
const optional = {
  security: z.enum(MAIL_SECURITIES),
  plainByOwner: z.boolean(),
  certificateSha256,
  folder,
  afterTaking: z.enum(AFTER_TAKING),
  fileTo: folder.nullable(),
  pollMinutes,
  isOn: z.boolean(),
}

/** POST /api/mailboxes. Without a port it is the usual one of its encryption. */
export const mailboxDoor = z.strictObject({
  ...required,
  port: port.optional(),
  security: optional.security.default('tls'),
  plainByOwner: optional.plainByOwner.default(false),
  certificateSha256: optional.certificateSha256.default(null),
  folder: optional.folder.default('INBOX'),
  afterTaking: optional.afterTaking.default('flag'),
  fileTo: optional.fileTo.default(null),
  pollMinutes: optional.pollMinutes.default(5),
  isOn: optional.isOn.default(true),
  rules: rules.default([]),
})

/** A mailbox's settings, all of them. */
export const wholeMailboxDoor = z.strictObject({ ...required, ...optional, port })

/** PATCH /api/mailboxes/:id. Rules, where given, stand in place of all. */
export const mailboxChangeDoor = z.strictObject({ ...required, ...optional, port, rules }).partial()
