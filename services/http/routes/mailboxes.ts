/** Mailboxes that cameras send their photos to. */
import { Router } from 'express'
import type { z } from 'zod'
import type { House } from '../../house.ts'
import {
  refusePasswordElsewhere,
  refuseSameWords,
  refuseUnsafeMailbox,
} from '../../mail/refuse-unsafe-mailbox.ts'
import type { MailSecurity } from '../../store/mail-tables.ts'
import {
  addMailbox,
  changeMailbox,
  findMailbox,
  listMailboxes,
  type RuleOfMailbox,
  removeMailbox,
} from '../../store/mailboxes.ts'
import { readSettings } from '../../store/settings.ts'
import { mailboxChangeDoor, mailboxDoor, wholeMailboxDoor } from '../mail-doors.ts'
import { mailboxOf, mailboxTryOf, saidSettings, settingsSaid } from '../mailbox-answer.ts'
import { parse, parseBody, parseId } from '../parse.ts'

/** RFC 8314, section 3.2, and RFC 9051, section 2.1. */
const USUAL_PORT: Readonly<Record<MailSecurity, number>> = { tls: 993, starttls: 143, none: 143 }

export function mailboxRoutes(house: House): Router {
  const router = Router()
  const { ledger, mail } = house

  router.get('/mailboxes', async (_request, response) => {
    const { zone } = await readSettings(ledger)
    const rows = await listMailboxes(ledger)
    response.json({ mailboxes: await Promise.all(rows.map((row) => mailboxOf(ledger, row, zone))) })
  })

  router.post('/mailboxes', async (request, response) => {
    const { rules, ...said } = parseBody(mailboxDoor, request)
    const { zone } = await readSettings(ledger)
    const settings = settingsSaid({ ...said, port: said.port ?? USUAL_PORT[said.security] })
    refuseUnsafeMailbox(settings)
    refuseSameWords(rules.map(ruleOf))
    const row = await addMailbox(ledger, { settings, rules: rules.map(ruleOf) })
    await mail.changed()
    response.status(201).json({ mailbox: await mailboxOf(ledger, row, zone) })
  })

  router.patch('/mailboxes/:id', async (request, response) => {
    const { rules, ...change } = parseBody(mailboxChangeDoor, request)
    const { zone } = await readSettings(ledger)
    const before = await findMailbox(ledger, parseId(request.params.id))
    const settings = settingsSaid(parse(wholeMailboxDoor, { ...saidSettings(before), ...change }))
    refuseUnsafeMailbox(settings)
    refuseSameWords((rules ?? []).map(ruleOf))
    if (change.password === undefined) refusePasswordElsewhere(before, settings)
    const row = await changeMailbox(ledger, before.id, { settings, rules: rules?.map(ruleOf) })
    await mail.changed()
    response.json({ mailbox: await mailboxOf(ledger, row, zone) })
  })

  router.delete('/mailboxes/:id', async (request, response) => {
    await removeMailbox(ledger, parseId(request.params.id))
    await mail.changed()
    response.json({})
  })

  router.post('/mailboxes/:id/try', async (request, response) => {
    const { zone } = await readSettings(ledger)
    const row = await findMailbox(ledger, parseId(request.params.id))
    response.json(await mailboxTryOf(ledger, await mail.tryOut(row), zone))
  })

  return router
}

type SaidRule = z.output<typeof mailboxDoor>['rules'][number]

function ruleOf({ cameraId, kind, words }: SaidRule): RuleOfMailbox {
  return { camera_id: cameraId, kind, words }
}
