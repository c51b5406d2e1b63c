/** How right the camera count is: by blind looks, by version of the models, and what other marks would do. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import { type ModelFigures, readModelFigures } from '../../model-figures.ts'
import { modelsFolder } from '../../paths.ts'
import { readAuditWeeks } from '../../store/audit-evidence.ts'
import { listCameras } from '../../store/cameras.ts'
import { readSpokenPhotos } from '../../store/evidence-words.ts'
import { presentModels } from '../../store/namer-in-use.ts'
import { listPoints } from '../../store/points.ts'
import { readSettings } from '../../store/settings.ts'
import { evidenceQuery, marksQuery } from '../audit-doors.ts'
import { evidenceAnswerOf } from '../evidence-answer.ts'
import { marksAnswerOf } from '../marks-answer.ts'
import { modelEvidenceAnswerOf } from '../model-evidence-answer.ts'
import { parse } from '../parse.ts'

export function evidenceRoutes(house: House): Router {
  const { ledger } = house
  const router = Router()
  let figures: Promise<ModelFigures | null> | null = null

  router.get('/evidence', async (request, response) => {
    const { weeks } = parse(evidenceQuery, request.query)
    const settings = await readSettings(ledger)
    const [read, cameras, points] = await Promise.all([
      readAuditWeeks(ledger, weeks),
      listCameras(ledger),
      listPoints(ledger),
    ])
    response.json(evidenceAnswerOf({ weeks: read, settings, cameras, points }))
  })

  router.get('/evidence/models', async (_request, response) => {
    const settings = await readSettings(ledger)
    figures ??= readModelFigures(modelsFolder)
    const [spoken, cameras, present] = await Promise.all([
      readSpokenPhotos(ledger),
      listCameras(ledger),
      presentModels(ledger, house.models),
    ])
    response.json(modelEvidenceAnswerOf({ spoken, settings, cameras, present, figures: await figures }))
  })

  router.get('/evidence/marks', async (request, response) => {
    const { species, weeks } = parse(marksQuery, request.query)
    const settings = await readSettings(ledger)
    const read = await readAuditWeeks(ledger, weeks)
    response.json(await marksAnswerOf(ledger, { species, weeks: read, settings, now: house.now() }))
  })

  return router
}
