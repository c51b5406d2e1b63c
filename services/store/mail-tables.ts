/** Tables of mailboxes that cameras send their photos to, as types. */
import type { Generated, GeneratedAlways } from 'kysely'

export const MAIL_SECURITIES = ['tls', 'starttls', 'none'] as const
export type MailSecurity = (typeof MAIL_SECURITIES)[number]

/** What becomes of a mail whose photos are safe. */
export const AFTER_TAKING = ['flag', 'file', 'delete'] as const
export type AfterTaking = (typeof AFTER_TAKING)[number]

export interface MailboxesTable {
  id: GeneratedAlways<number>
  name: string
  host: string
  port: number
  security: MailSecurity
  /** The owner wants no encryption, though the server is another machine. */
  plain_by_owner: boolean
  /** Of the one certificate that is believed, 64 digits; null: any that a known authority vouches for. */
  certificate_sha256: string | null
  user_name: string
  password: string
  folder: string
  after_taking: AfterTaking
  /** Where mails are filed, for `file`. */
  file_to: string | null
  poll_minutes: number
  is_on: boolean
  uid_validity: number | null
  /** Mails up to it were dealt with. */
  last_uid: Generated<number>
  /** Goes up with each change of the rules. */
  rules_generation: Generated<number>
  /** The rules under which mails that fit no camera were last looked at. */
  looked_generation: Generated<number>
  last_try_at: Date | null
  last_ok_at: Date | null
  /** Null: the last try went well. */
  last_reason: string | null
  /** Whose photos were taken. */
  mails: Generated<number>
  photos: Generated<number>
}

export const MAIL_RULE_KINDS = ['tag', 'subject', 'sender'] as const
export type MailRuleKind = (typeof MAIL_RULE_KINDS)[number]

export interface MailRulesTable {
  id: GeneratedAlways<number>
  mailbox_id: number
  camera_id: number
  kind: MailRuleKind
  words: string
}

/** When a mail that was left is tried again by itself: `soon` where its camera had sent all it might. */
export type AgainWhen = 'never' | 'with other rules' | 'soon'

/** A mail whose photos were not taken; it lies in the mailbox as it came. */
export interface MailsLeftTable {
  mailbox_id: number
  uid: number
  sender: string
  subject: string
  at: Date | null
  reason: string
  again: AgainWhen
}

export interface MailTables {
  mailboxes: MailboxesTable
  mail_rules: MailRulesTable
  mails_left: MailsLeftTable
}
