/** What must be told to fetch a camera's photos from its address, and how it is shown again. */
import { z } from 'zod'
import { Refusal } from '../refusal.ts'

const address = z
  .string()
  .trim()
  .max(2_000)
  .superRefine((text, context) => {
    const wrong = wrongAddress(text)
    if (wrong !== null) context.addIssue({ code: 'custom', message: wrong })
  })

const noControls = (text: string) => !/\p{Cc}/u.test(text)
const secret = z
  .string()
  .min(1)
  .max(200)
  .refine(noControls, { error: 'holds a control character' })
  .nullable()
  .default(null)
const certificate = z
  .string()
  .trim()
  .transform((text) => text.replaceAll(':', '').toLowerCase())
  .refine((text) => /^[0-9a-f]{64}$/.test(text), {
    error: 'not a SHA-256: 64 hexadecimal digits, with or without colons',
  })
  .nullable()
  .default(null)

const DAY_MINUTES = 1_440
export const snapshotDoor = z.strictObject({
  address,
  user: secret,
  password: secret,
  certificateSha256: certificate,
  everyMinutes: z.number().min(0.5).max(DAY_MINUTES).default(15),
  nightEveryMinutes: z.number().min(0.5).max(DAY_MINUTES).nullable().default(null),
  onlyChanged: z.boolean().default(false),
  /** Of the picture's cells (picture-change.ts). */
  leastChangePercent: z.number().min(0.05).max(50).default(0.3),
  /** One is kept at least so often, changed or not. */
  keepEveryMinutes: z.number().min(1).max(DAY_MINUTES).default(60),
  timeoutSeconds: z.number().min(1).max(120).default(30),
})
export type SnapshotSettings = z.output<typeof snapshotDoor>

function wrongAddress(text: string): string | null {
  if (!URL.canParse(text)) return 'not an address like http://192.168.1.20/snapshot.jpg'
  const url = new URL(text)
  if (url.protocol !== 'http:' && url.protocol !== 'https:') return 'neither an http nor an https address'
  if (url.username !== '' || url.password !== '')
    return 'holds a name or a password: give them in their own fields'
  return null
}

/** What a query may carry that is nobody's business. */
const SECRET_NAME = /pass|pwd|psw|token|key|secret|auth|sig|login|user|usr|cred/i
const HIDDEN = '***'

/** The address without the values of a query that look like secrets. */
export function shownAddress(text: string): string {
  const url = new URL(text)
  for (const name of new Set(url.searchParams.keys())) {
    if (SECRET_NAME.test(name)) url.searchParams.set(name, HIDDEN)
  }
  return url.href
}

export function shownSettings({ password, ...settings }: SnapshotSettings) {
  return { ...settings, address: shownAddress(settings.address), hasPassword: password !== null }
}

/**
 * Settings after a change. An address that comes back as it was shown is left as it is. A kept password goes to no other
 * host than the one it was given for.
 * @throws Refusal
 */
export function changedSettings(
  before: SnapshotSettings,
  { hasPassword: _, ...given }: Readonly<Record<string, unknown>>,
): unknown {
  const isShown = given.address === shownAddress(before.address)
  const after: Record<string, unknown> = { ...before, ...given, ...(isShown && { address: before.address }) }
  if (before.password === null || 'password' in given || sameOrigin(before.address, after.address))
    return after
  throw new Refusal({
    kind: 'bad input',
    detail: 'The password was given for another host.',
    field: 'settings.password',
    remedy: 'Give it again with the new address.',
  })
}

function sameOrigin(before: string, after: unknown): boolean {
  return typeof after === 'string' && URL.canParse(after) && new URL(after).origin === new URL(before).origin
}
