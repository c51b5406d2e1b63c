/** What a mailbox's settings must not be together, said at the field that mends it. */
import { Refusal } from '../refusal.ts'
import type { MailboxSettings, RuleOfMailbox } from '../store/mailboxes.ts'

const LOOPBACK = /^(localhost|127(\.\d{1,3}){3}|::1)$/i
/** With another of these the password would go somewhere else than its owner sent it. */
const WHERE_IT_GOES = ['host', 'port', 'security', 'user_name', 'certificate_sha256'] as const

/** @throws Refusal that names the field as the API calls it */
export function refuseUnsafeMailbox(settings: MailboxSettings): void {
  const { security, host, plain_by_owner, certificate_sha256, after_taking, file_to, folder } = settings
  if (security === 'none' && !LOOPBACK.test(host) && !plain_by_owner) {
    throw refused(
      'plainByOwner',
      `Without encryption anybody on the way to ${host} can read the password and the photos.`,
      'Choose TLS. Where the server really has none, tick that you want it without.',
    )
  }
  if (certificate_sha256 !== null && security !== 'tls') {
    throw refused(
      'certificateSha256',
      'One certificate can only be trusted where TLS is spoken from the start.',
      'Choose TLS, usually port 993, or leave the certificate out.',
    )
  }
  if (after_taking !== 'file') return
  if (file_to === null) {
    throw refused('fileTo', 'Mails are to be filed, but no folder is named for them.', 'Name the folder.')
  }
  if (file_to === folder) {
    throw refused(
      'fileTo',
      `Mails can't be filed into "${folder}", which they are read from.`,
      'Name another folder; it is made if it is not there.',
    )
  }
}

/** The same words can't stand for two cameras. @throws Refusal */
export function refuseSameWords(rules: readonly RuleOfMailbox[]): void {
  const said = rules.map(({ kind, words }) => `${kind} ${words.toLowerCase()}`)
  const again = said.findIndex((one, at) => said.indexOf(one) < at)
  if (again < 0) return
  throw refused(
    `rules.${again}.words`,
    `"${rules[again]!.words}" stands there twice.`,
    'Give each camera words of its own, or take one of the two lines out.',
  )
}

/** A password that nobody gave again goes nowhere new. @throws Refusal */
export function refusePasswordElsewhere(before: MailboxSettings, after: MailboxSettings): void {
  if (WHERE_IT_GOES.every((field) => before[field] === after[field])) return
  throw refused(
    'password',
    'The password that is kept is for the server as it was.',
    'Give the password again together with the new server, port, user or encryption.',
  )
}

function refused(field: string, detail: string, remedy: string): Refusal {
  return new Refusal({ kind: 'bad input', field, detail, remedy })
}
