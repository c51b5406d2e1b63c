/** Traps: what was done with them, when each is to be visited, and the sheet for the yard. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import { findPoint } from '../../store/points.ts'
import { readSettings } from '../../store/settings.ts'
import { trapEntries } from '../../store/trap-entries.ts'
import { readTrapHours, saveTrapHours } from '../../store/trap-hours.ts'
import { recordTrapWords, type SaidTrapWord, type TrapWithdrawal } from '../../store/trap-log.ts'
import { dayBegins, dayEnds } from '../../tally/station-days.ts'
import type { Instant } from '../../words.ts'
import { trapEntryOf, trapLogCsv } from '../outcome-answers.ts'
import { parse, parseBody, parseId } from '../parse.ts'
import { saidTime } from '../said-time.ts'
import { readTraps } from '../trap-row.ts'
import {
  pointTrapHoursDoor,
  stationTrapHoursDoor,
  type TrapLogWord,
  trapLogCsvQuery,
  trapLogDoor,
  trapLogQuery,
} from '../yard-doors.ts'
import { yardFormOf } from '../yard-form.ts'
import { yardSheetOf } from '../yard-sheet.ts'

/** How far ahead of the service's clock a word may be dated: a phone's clock is rarely further out. */
const AHEAD_MINUTES = 5
/** All that a file can hold. */
const MOST_LINES = 100_000

export function trapRoutes(house: House): Router {
  const router = Router()

  router.post('/trap-log', async (request, response) => {
    const { who, words } = parseBody(trapLogDoor, request)
    const now = house.now()
    await recordTrapWords(house.ledger, {
      words: words.map((word, index) => saidWord(word, { who, now, index })),
      now,
    })
    response.status(201).json({ said: words.map(({ id }) => id) })
  })

  router.get('/points/:id/trap-log', async (request, response) => {
    const { limit } = parse(trapLogQuery, request.query)
    const { id: pointId } = await findPoint(house.ledger, parseId(request.params.id))
    const { zone } = await readSettings(house.ledger)
    const [traps, entries] = await Promise.all([
      readTraps(house.ledger, { now: house.now(), zone, pointId }),
      trapEntries(house.ledger, { pointId, limit }),
    ])
    response.json({
      trap: traps.get(pointId) ?? null,
      log: entries.map((entry) => trapEntryOf(entry, zone)),
    })
  })

  router.get('/trap-log.csv', async (request, response) => {
    const { point, from, to, which } = parse(trapLogCsvQuery, request.query)
    const { zone } = await readSettings(house.ledger)
    const entries = await trapEntries(house.ledger, {
      pointId: point,
      from: from === undefined ? undefined : dayBegins(from, zone),
      to: to === undefined ? undefined : dayEnds(to, zone),
      limit: MOST_LINES,
    })
    const wanted = entries.filter(({ back }) => which === 'all' || back === null)
    response
      .type('text/csv; charset=utf-8; header=present')
      .attachment('trap-log.csv')
      .send(trapLogCsv(wanted.map((entry) => trapEntryOf(entry, zone))))
  })

  router.get('/yard-sheet', async (_request, response) => {
    response.json(await yardSheetOf(house.ledger, house.now()))
  })

  router.get('/yard-form', async (_request, response) => {
    response.json(await yardFormOf(house.ledger, house.now()))
  })

  const answerHours = async () => {
    const { station, points } = await readTrapHours(house.ledger)
    return { stationHours: station, points: [...points].map(([pointId, hours]) => ({ pointId, hours })) }
  }

  router.get('/trap-hours', async (_request, response) => {
    response.json(await answerHours())
  })

  router.put('/trap-hours', async (request, response) => {
    const { hours } = parseBody(stationTrapHoursDoor, request)
    await saveTrapHours(house.ledger, { pointId: null, hours })
    response.json(await answerHours())
  })

  router.put('/points/:id/trap-hours', async (request, response) => {
    const { id: pointId } = await findPoint(house.ledger, parseId(request.params.id))
    const { hours } = parseBody(pointTrapHoursDoor, request)
    await saveTrapHours(house.ledger, { pointId, hours })
    response.json(await answerHours())
  })

  return router
}

interface Frame {
  readonly who: string
  readonly now: Instant
  readonly index: number
}

function saidWord(word: TrapLogWord, { who, now, index }: Frame): SaidTrapWord | TrapWithdrawal {
  const { note = null } = word
  if (word.kind === 'withdrawn') return { ...word, note, who }
  const time = (said: string, field: string) =>
    saidTime(said, {
      field: `words.${index}.${field}`,
      now,
      aheadMinutes: AHEAD_MINUTES,
      remedy: 'Give the time at which it was done, or set the clock of the phone right.',
    })
  return {
    ...word,
    note,
    who,
    at: time(word.at, 'at'),
    held: word.held ?? null,
    heldSince: word.heldSince === undefined ? null : time(word.heldSince, 'heldSince'),
    species: word.species ?? null,
    class: word.class ?? null,
    withdraws: word.withdraws ?? null,
  }
}
