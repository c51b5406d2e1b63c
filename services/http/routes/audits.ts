/** Blind looks: what is drawn, what waits for a word, and the words, which are ordinary checks as well. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import { toStationTime } from '../../station-time.ts'
import { listAudits, listOpenLooks, type OpenLook, recordLookWords } from '../../store/audit-looks.ts'
import { readLooksAWeek, saveLooksAWeek } from '../../store/audits.ts'
import { readSettings } from '../../store/settings.ts'
import { findStills } from '../../store/still-views.ts'
import { nightOf, nightSpell } from '../../tally/nights.ts'
import { weekOf } from '../../tally/weeks.ts'
import type { Tally, Zone } from '../../words.ts'
import { smallUrl, stationTime, stillOf } from '../answers.ts'
import { auditSettingDoor, lookWordsDoor, openLooksQuery } from '../audit-doors.ts'
import type { OpenLook as OpenLookAnswer } from '../audit-shapes.ts'
import { stillIdDoor } from '../doors.ts'
import { parse, parseBody, parseId } from '../parse.ts'

const AUDITS_SHOWN = 12

export function auditRoutes(house: House): Router {
  const { ledger } = house
  const router = Router()

  router.get('/audits', async (_request, response) => {
    const { zone } = await readSettings(ledger)
    const audits = await listAudits(ledger, AUDITS_SHOWN)
    const week = weekOf(nightOf(house.now(), zone))
    response.json({
      looksAWeek: await readLooksAWeek(ledger),
      next: { ...week, drawnFrom: toStationTime(nightSpell(week.to, zone).to, zone) },
      audits: audits.map((row) => ({
        id: row.id,
        from: row.week_from,
        to: row.week_to,
        drawnAt: stationTime(row.drawn_at, zone),
        seed: row.seed,
        looks: row.looks,
        lookedAt: row.looked_at,
        couldNotBeDrawn: row.could_not_be_drawn,
      })),
    })
  })

  router.put('/audits', async (request, response) => {
    const { looksAWeek } = parseBody(auditSettingDoor, request)
    await saveLooksAWeek(ledger, looksAWeek)
    response.json({ looksAWeek })
  })

  router.get('/audits/looks', async (request, response) => {
    const { limit } = parse(openLooksQuery, request.query)
    const { zone } = await readSettings(ledger)
    const { open, looks } = await listOpenLooks(ledger, limit)
    response.json({ open, looks: looks.map((look) => openLookOf(look, zone)) })
  })

  router.post('/audits/looks/:id', async (request, response) => {
    const lookId = parseId(request.params.id, stillIdDoor)
    const { who, words } = parseBody(lookWordsDoor, request)
    const settings = await readSettings(ledger)
    const said = words.map(({ stillId, counts }) => ({ stillId, counts: counts as Tally | null }))
    await recordLookWords(ledger, { lookId, words: said, who, at: house.now() })
    const stills = await findStills(
      ledger,
      words.map(({ stillId }) => stillId),
    )
    const inTurn = stills.toSorted((a, b) => a.still.taken_at.getTime() - b.still.taken_at.getTime())
    response.status(201).json({
      stills: inTurn.map((view) => stillOf(view, settings)),
      said: inTurn.map(({ lastCheck }) => lastCheck?.counts ?? null),
    })
  })

  return router
}

/** Nothing of what the machine said, nor why it was drawn: whoever knows that does not look with their own eyes. */
function openLookOf(look: OpenLook, zone: Zone): OpenLookAnswer {
  return {
    id: look.id,
    auditId: look.audit_id,
    week: look.week_from,
    pointName: look.point_name,
    cameraName: look.camera_name,
    photos: look.photos.map(({ id, taken_at, width, height, kept }) => ({
      id,
      takenAt: stationTime(taken_at, zone),
      width,
      height,
      kept,
      smallUrl: smallUrl(id),
      fullUrl: `/api/stills/${id}/full`,
    })),
  }
}
