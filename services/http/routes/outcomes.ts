/** What was taken at yards: written down once, corrected by later words. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import { Refusal } from '../../refusal.ts'
import { outcomeEntries } from '../../store/outcome-entries.ts'
import { type OutcomeWord, recordOutcomes } from '../../store/outcomes.ts'
import { findProgram } from '../../store/programs.ts'
import { readSettings, type Settings } from '../../store/settings.ts'
import { stationDate } from '../../tally/station-days.ts'
import type { Instant } from '../../words.ts'
import { outcomesAnswerOf, outcomesCsv } from '../outcome-answers.ts'
import { parse, parseBody, parseId } from '../parse.ts'
import { outcomesCsvQuery, outcomesDoor, outcomesQuery } from '../yard-doors.ts'

/** All that a file can hold. */
const MOST_LINES = 100_000
const MOST_OF_PROGRAM = 5_000

export function outcomeRoutes(house: House): Router {
  const router = Router()

  router.post('/outcomes', async (request, response) => {
    const { who, words } = parseBody(outcomesDoor, request)
    const settings = await readSettings(house.ledger)
    const now = house.now()
    const said = words.map((word): OutcomeWord => {
      const { note = null } = word
      if (word.kind === 'withdrawn') return { ...word, note, who }
      return {
        ...word,
        note,
        who,
        programId: word.programId ?? null,
        class: word.class ?? null,
        effort: word.effort ?? null,
        carrier: word.carrier ?? null,
        paper: word.paper ?? null,
        withdraws: word.withdraws ?? null,
      }
    })
    for (const [index, word] of said.entries()) refuseAhead(word, index, { now, settings })
    await recordOutcomes(house.ledger, { words: said, now })
    response.status(201).json({ said: words.map(({ id }) => id) })
  })

  router.get('/outcomes', async (request, response) => {
    const { program, point, from, to, limit } = parse(outcomesQuery, request.query)
    const { zone } = await readSettings(house.ledger)
    const which = { programId: program, pointId: point, from, to, limit }
    response.json(outcomesAnswerOf(await outcomeEntries(house.ledger, which), zone))
  })

  router.get('/programs/:id/outcomes', async (request, response) => {
    const { id: programId } = await findProgram(house.ledger, parseId(request.params.id))
    const { zone } = await readSettings(house.ledger)
    response.json(
      outcomesAnswerOf(await outcomeEntries(house.ledger, { programId, limit: MOST_OF_PROGRAM }), zone),
    )
  })

  router.get('/outcomes.csv', async (request, response) => {
    const { program, point, from, to, which } = parse(outcomesCsvQuery, request.query)
    const { zone } = await readSettings(house.ledger)
    const asked = { programId: program, pointId: point, from, to, limit: MOST_LINES }
    const entries = (await outcomeEntries(house.ledger, asked)).filter(
      ({ back }) => which === 'all' || back === null,
    )
    response
      .type('text/csv; charset=utf-8; header=present')
      .attachment('outcomes.csv')
      .send(outcomesCsv(outcomesAnswerOf(entries, zone)))
  })

  return router
}

/** A day that has not come yet is a slip of the finger. */
function refuseAhead(
  word: OutcomeWord,
  index: number,
  { now, settings }: { readonly now: Instant; readonly settings: Settings },
): void {
  if (word.kind === 'withdrawn' || word.day <= stationDate(now, settings.zone)) return
  throw new Refusal({
    kind: 'bad input',
    detail: `${word.day} has not come yet.`,
    field: `words.${index}.day`,
    remedy: 'Give the day on which they were taken.',
  })
}
