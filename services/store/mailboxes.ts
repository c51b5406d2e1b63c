/** Mailboxes that cameras send their photos to, and the rules that say whose a mail is. */
import type { Selectable } from 'kysely'
import { Refusal } from '../refusal.ts'
import type { MailboxesTable, MailRulesTable } from './mail-tables.ts'
import type { Ledger } from './open.ts'
import type { LedgerOrTransaction } from './settings.ts'

export type MailboxRow = Selectable<MailboxesTable>
export type MailRuleRow = Selectable<MailRulesTable>

type SettingColumn =
  | 'name'
  | 'host'
  | 'port'
  | 'security'
  | 'plain_by_owner'
  | 'certificate_sha256'
  | 'user_name'
  | 'password'
  | 'folder'
  | 'after_taking'
  | 'file_to'
  | 'poll_minutes'
  | 'is_on'
export type MailboxSettings = Pick<MailboxRow, SettingColumn>
export type RuleOfMailbox = Pick<MailRuleRow, 'camera_id' | 'kind' | 'words'>

/** With another of these it is another folder: what was read of the old one says nothing of it. */
const WHOSE_FOLDER = ['host', 'port', 'user_name', 'folder'] as const

export async function listMailboxes(ledger: LedgerOrTransaction): Promise<MailboxRow[]> {
  return await ledger.selectFrom('mailboxes').selectAll().orderBy('id').execute()
}

export async function findMailbox(ledger: LedgerOrTransaction, id: number): Promise<MailboxRow> {
  const row = await ledger.selectFrom('mailboxes').selectAll().where('id', '=', id).executeTakeFirst()
  if (row !== undefined) return row
  throw new Refusal({
    kind: 'not found',
    detail: `There is no mailbox ${id}.`,
    field: 'id',
    remedy: 'Open Set-up and choose a mailbox from the list.',
  })
}

/** Of one mailbox, or of all; in the order they were written down. */
export async function listMailRules(ledger: LedgerOrTransaction, mailboxId?: number): Promise<MailRuleRow[]> {
  return await ledger
    .selectFrom('mail_rules')
    .selectAll()
    .$if(mailboxId !== undefined, (query) => query.where('mailbox_id', '=', mailboxId!))
    .orderBy('id')
    .execute()
}

export async function addMailbox(
  ledger: Ledger,
  { settings, rules }: { readonly settings: MailboxSettings; readonly rules: readonly RuleOfMailbox[] },
): Promise<MailboxRow> {
  return await ledger.transaction().execute(async (tx) => {
    await refuseTakenMailboxName(tx, settings.name, null)
    const { id } = await tx.insertInto('mailboxes').values(settings).returning('id').executeTakeFirstOrThrow()
    await putRules(tx, id, rules)
    return await findMailbox(tx, id)
  })
}

/** Rules left out stay; those given stand in place of all. Mails that fitted no camera are then looked at again. */
export async function changeMailbox(
  ledger: Ledger,
  id: number,
  {
    settings,
    rules,
  }: { readonly settings: MailboxSettings; readonly rules: readonly RuleOfMailbox[] | undefined },
): Promise<MailboxRow> {
  return await ledger.transaction().execute(async (tx) => {
    const before = await findMailbox(tx, id)
    await refuseTakenMailboxName(tx, settings.name, id)
    const isOther = WHOSE_FOLDER.some((column) => before[column] !== settings[column])
    await tx
      .updateTable('mailboxes')
      .set((e) => ({
        ...settings,
        ...(isOther && { uid_validity: null, last_uid: 0 }),
        ...(rules !== undefined && { rules_generation: e('rules_generation', '+', 1) }),
      }))
      .where('id', '=', id)
      .execute()
    if (isOther) await tx.deleteFrom('mails_left').where('mailbox_id', '=', id).execute()
    if (rules !== undefined) await putRules(tx, id, rules)
    return await findMailbox(tx, id)
  })
}

/** Forgets the mailbox and its rules. Photos that it brought, and the mails on its server, stay. */
export async function removeMailbox(ledger: Ledger, id: number): Promise<void> {
  await findMailbox(ledger, id)
  await ledger.deleteFrom('mailboxes').where('id', '=', id).execute()
}

async function putRules(
  tx: LedgerOrTransaction,
  mailboxId: number,
  rules: readonly RuleOfMailbox[],
): Promise<void> {
  await tx.deleteFrom('mail_rules').where('mailbox_id', '=', mailboxId).execute()
  if (rules.length === 0) return
  const known = await tx
    .selectFrom('cameras')
    .select('id')
    .where(
      'id',
      'in',
      rules.map(({ camera_id }) => camera_id),
    )
    .execute()
  const stranger = rules.findIndex(({ camera_id }) => !known.some(({ id }) => id === camera_id))
  if (stranger >= 0) {
    throw new Refusal({
      kind: 'not found',
      detail: `There is no camera ${rules[stranger]!.camera_id}.`,
      field: `rules.${stranger}.cameraId`,
      remedy: 'Choose a camera from the list, or add it in Set-up first.',
    })
  }
  await tx
    .insertInto('mail_rules')
    .values(rules.map((rule) => ({ mailbox_id: mailboxId, ...rule })))
    .execute()
}

async function refuseTakenMailboxName(
  tx: LedgerOrTransaction,
  name: string,
  exceptId: number | null,
): Promise<void> {
  const taken = await tx.selectFrom('mailboxes').select('id').where('name', '=', name).executeTakeFirst()
  if (taken === undefined || taken.id === exceptId) return
  throw new Refusal({
    kind: 'conflict',
    detail: `A mailbox called "${name}" is here already.`,
    field: 'name',
    remedy: 'Give it another name, or change the mailbox that is here.',
  })
}
