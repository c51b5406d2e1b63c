/** Programs: made, changed, finished, dropped, taken up again; nothing said is lost. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import { toStationTime } from '../../station-time.ts'
import { lastKeptLists } from '../../store/kept-lists.ts'
import { listPoints } from '../../store/points.ts'
import type { ProgramFields } from '../../store/program-tables.ts'
import { listPrograms } from '../../store/programs.ts'
import { readSettings } from '../../store/settings.ts'
import type { NightDate } from '../../words.ts'
import { parseBody, parseId } from '../parse.ts'
import { programHistoryOf, programOf } from '../program-answers.ts'
import { programChangeDoor, programDoor, programWordDoor } from '../program-doors.ts'
import { planProgram, sayProgramWord } from '../target-list-now.ts'

export function programRoutes(house: House): Router {
  const router = Router()
  const clock = async () => ({ zone: (await readSettings(house.ledger)).zone, now: house.now() })

  router.get('/programs', async (_request, response) => {
    const at = await clock()
    const [rows, kept, points] = await Promise.all([
      listPrograms(house.ledger),
      lastKeptLists(house.ledger),
      listPoints(house.ledger),
    ])
    const names = new Map(points.map(({ id, name }) => [id, name]))
    response.json({
      now: toStationTime(at.now, at.zone),
      programs: rows.map((row) => ({
        ...programOf(row, at),
        points: (kept.get(row.id)?.lines ?? []).map(({ pointId }) => names.get(pointId) ?? ''),
      })),
    })
  })

  router.post('/programs', async (request, response) => {
    const { who, fromNight, toNight, ...fields } = parseBody(programDoor, request)
    const at = await clock()
    const row = await planProgram(
      house.ledger,
      { ...fields, fromNight: fromNight as NightDate, toNight: toNight as NightDate },
      { at: at.now, who },
    )
    response.status(201).json({ program: programOf(row, at) })
  })

  router.get('/programs/:id', async (request, response) => {
    response.json(await programHistoryOf(house.ledger, parseId(request.params.id), house.now()))
  })

  router.patch('/programs/:id', async (request, response) => {
    const { who, ...given } = parseBody(programChangeDoor, request)
    const at = await clock()
    const fields = Object.fromEntries(
      Object.entries(given).filter(([, value]) => value !== undefined),
    ) as Partial<ProgramFields>
    const row = await sayProgramWord(house.ledger, parseId(request.params.id), {
      word: 'changed',
      fields,
      said: { at: at.now, who },
    })
    response.json({ program: programOf(row, at) })
  })

  router.post('/programs/:id/words', async (request, response) => {
    const { who, word } = parseBody(programWordDoor, request)
    const at = await clock()
    const row = await sayProgramWord(house.ledger, parseId(request.params.id), {
      word,
      said: { at: at.now, who },
    })
    response.status(201).json({ program: programOf(row, at) })
  })

  return router
}
