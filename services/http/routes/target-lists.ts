/** A program's target list: read, changed by hand, printed, and given to maps, spreadsheets and calendars. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import { targetSheet } from '../../report/target-sheet.ts'
import { readSettings } from '../../store/settings.ts'
import { parseBody, parseId } from '../parse.ts'
import { targetEditDoor } from '../program-doors.ts'
import { SHEET_POLICY } from '../sheet-policy.ts'
import { targetListOf } from '../target-list-answer.ts'
import { LIST_FORMATS, listFile } from '../target-list-files.ts'
import { editTargetList } from '../target-list-now.ts'
import { targetVersionsOf } from '../target-versions-answer.ts'

export function targetListRoutes(house: House): Router {
  const router = Router()

  router.get('/programs/:id/target-list', async (request, response) => {
    response.json(await targetListOf(house.ledger, parseId(request.params.id), house.now()))
  })

  router.post('/programs/:id/target-list', async (request, response) => {
    const { version, edit, who } = parseBody(targetEditDoor, request)
    const id = parseId(request.params.id)
    const now = house.now()
    await editTargetList(house.ledger, id, { edit, version, said: { at: now, who } })
    response.status(201).json(await targetListOf(house.ledger, id, now))
  })

  router.get('/programs/:id/target-list/versions', async (request, response) => {
    response.json(await targetVersionsOf(house.ledger, parseId(request.params.id)))
  })

  router.get('/programs/:id/target-list.html', async (request, response) => {
    const id = parseId(request.params.id)
    const list = await targetListOf(house.ledger, id, house.now())
    response
      .set('Content-Security-Policy', SHEET_POLICY)
      .type('html')
      .send(
        targetSheet(list, {
          photoUrl: ({ photo }) => photo!.smallUrl,
          own: { back: `/programs/${id}` },
          until: null,
        }),
      )
  })

  for (const format of LIST_FORMATS) {
    router.get(`/programs/:id/target-list.${format}`, async (request, response) => {
      const [list, { homestead }] = await Promise.all([
        targetListOf(house.ledger, parseId(request.params.id), house.now()),
        readSettings(house.ledger),
      ])
      const { type, name, text } = listFile(format, list, homestead)
      response.attachment(name).type(type).send(text)
    })
  }

  return router
}
