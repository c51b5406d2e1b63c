/** Links to a target list that need no account: made, listed, ended by hand. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import { findProgram } from '../../store/programs.ts'
import { readSettings } from '../../store/settings.ts'
import { listShareLinks, makeShareLink, revokeShareLink } from '../../store/share-links.ts'
import type { Instant } from '../../words.ts'
import { parseBody, parseId } from '../parse.ts'
import { shareLinkOf } from '../program-answers.ts'
import { shareLinkDoor } from '../program-doors.ts'

const DAY_MS = 86_400_000

export function shareLinkRoutes(house: House): Router {
  const router = Router()
  const clock = async () => ({ zone: (await readSettings(house.ledger)).zone, now: house.now() })

  router.get('/programs/:id/links', async (request, response) => {
    const { id } = await findProgram(house.ledger, parseId(request.params.id))
    const [at, rows] = await Promise.all([clock(), listShareLinks(house.ledger, id)])
    response.json({ links: rows.map((row) => shareLinkOf(row, at)) })
  })

  router.post('/programs/:id/links', async (request, response) => {
    const { days, forWhom, who } = parseBody(shareLinkDoor, request)
    const at = await clock()
    const { link, token } = await makeShareLink(house.ledger, {
      programId: parseId(request.params.id),
      said: { at: at.now, who },
      endsAt: (at.now + days * DAY_MS) as Instant,
      forWhom,
    })
    response.status(201).json({ link: shareLinkOf(link, at), path: `/shared/${token}` })
  })

  router.post('/share-links/:id/end', async (request, response) => {
    const at = await clock()
    const link = await revokeShareLink(house.ledger, parseId(request.params.id), at.now)
    response.json({ link: shareLinkOf(link, at) })
  })

  return router
}
