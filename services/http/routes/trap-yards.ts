/** Trap yards: where to set gates and when, what the owner says of it, and plans that are kept. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import type { KeptYardPlan } from '../../planning/yard-plan.ts'
import { readSettings } from '../../store/settings.ts'
import {
  changeYardPlan,
  findYardPlan,
  keepYardPlan,
  listYardPlans,
  withdrawYardPlan,
} from '../../store/yard-plans.ts'
import { sayDailyRange, sayFirstUsed, sayOtherWater, sayYardMeans } from '../../store/yard-words.ts'
import type { NightDate, Species } from '../../words.ts'
import { gateHoursOf } from '../gate-hours-answer.ts'
import { parse, parseBody, parseId } from '../parse.ts'
import {
  dailyRangeDoor,
  firstUsedDoor,
  gateHoursQuery,
  otherWaterDoor,
  trapYardsQuery,
  yardMeansDoor,
  yardPlanChangeDoor,
  yardPlanDoor,
  yardPlanWithdrawDoor,
  yardTryQuery,
} from '../trap-yard-doors.ts'
import { trapYardsOf } from '../trap-yards-answer.ts'
import { figuresOf, keptPlanOf } from '../yard-plans-answer.ts'
import { yardTryOf } from '../yard-try-answer.ts'

export function trapYardRoutes(house: House): Router {
  const { ledger } = house
  const router = Router()
  /** What is proposed after a word is what the word changes. */
  const proposal = (species?: Species) => trapYardsOf(ledger, { species, now: house.now() })
  const said = (who: string) => ({ who, now: house.now() })
  const zone = async () => (await readSettings(ledger)).zone

  router.get('/trap-yards', async (request, response) => {
    response.json(await proposal(parse(trapYardsQuery, request.query).species))
  })

  router.get('/trap-yards/try', async (request, response) => {
    const asked = parse(yardTryQuery, request.query)
    response.json(await yardTryOf(ledger, { ...asked, now: house.now() }))
  })

  router.get('/trap-yards/hours', async (request, response) => {
    const { from, to, first, ...asked } = parse(gateHoursQuery, request.query)
    response.json(
      await gateHoursOf(ledger, {
        ...asked,
        chosen: from === undefined || to === undefined ? null : { from, to },
        first: first as NightDate | undefined,
        nights: asked.nights,
        now: house.now(),
      }),
    )
  })

  router.put('/trap-yards/means', async (request, response) => {
    const { who, ...means } = parseBody(yardMeansDoor, request)
    await readSettings(ledger)
    await sayYardMeans(ledger, means, said(who))
    response.json(await proposal())
  })

  router.put('/trap-yards/ranges', async (request, response) => {
    const { who, ...word } = parseBody(dailyRangeDoor, request)
    await readSettings(ledger)
    await sayDailyRange(ledger, word, said(who))
    response.json(await proposal(word.species))
  })

  router.post('/trap-yards/other-water', async (request, response) => {
    const { who, ...word } = parseBody(otherWaterDoor, request)
    await readSettings(ledger)
    await sayOtherWater(ledger, word, said(who))
    response.status(201).json(await proposal())
  })

  router.post('/trap-yards/first-used', async (request, response) => {
    const { who, on, ...word } = parseBody(firstUsedDoor, request)
    await readSettings(ledger)
    await sayFirstUsed(ledger, { ...word, on: on as NightDate | null }, said(who))
    response.status(201).json(await proposal(word.species))
  })

  router.get('/trap-yards/plans', async (_request, response) => {
    const at = await zone()
    response.json({ plans: (await listYardPlans(ledger)).map((one) => keptPlanOf(one, at)) })
  })

  router.get('/trap-yards/plans/:id', async (request, response) => {
    const versions = await findYardPlan(ledger, parseId(request.params.id))
    const at = await zone()
    response.json({ versions: versions.map((one) => keptPlanOf(one, at)) })
  })

  router.post('/trap-yards/plans', async (request, response) => {
    const { who, ...plan } = parseBody(yardPlanDoor, request)
    const kept = await withFigures(plan)
    response.status(201).json(keptPlanOf(await keepYardPlan(ledger, kept, said(who)), await zone()))
  })

  router.put('/trap-yards/plans/:id', async (request, response) => {
    const planId = parseId(request.params.id)
    const { who, version, ...plan } = parseBody(yardPlanChangeDoor, request)
    await findYardPlan(ledger, planId)
    const kept = await withFigures(plan)
    response.json(
      keptPlanOf(await changeYardPlan(ledger, { planId, version, ...kept }, said(who)), await zone()),
    )
  })

  router.delete('/trap-yards/plans/:id', async (request, response) => {
    const planId = parseId(request.params.id)
    const { who, version } = parseBody(yardPlanWithdrawDoor, request)
    response.json(keptPlanOf(await withdrawYardPlan(ledger, { planId, version }, said(who)), await zone()))
  })

  async function withFigures(given: Omit<KeptYardPlan, 'fromNight'> & { readonly fromNight: string }) {
    const plan = { ...given, fromNight: given.fromNight as NightDate }
    return { plan, shown: await figuresOf(ledger, { plan, now: house.now() }) }
  }

  return router
}
