/** What a link shows to whoever has it: the target list with its photos and the words of safety, and nothing else. */
import { type Response, Router } from 'express'
import { sharedWords } from '../../../web/text/links.ts'
import { dayAndClock } from '../../../web/text/times.ts'
import type { House } from '../../house.ts'
import { closedSheet, targetSheet } from '../../report/target-sheet.ts'
import { toStationTime } from '../../station-time.ts'
import { readSettings } from '../../store/settings.ts'
import { linkEnded, type ShareLinkRow, shareLinkOf } from '../../store/share-links.ts'
import { findStill } from '../../store/still-views.ts'
import { stationTime } from '../answers.ts'
import { sendSmall } from '../pictures.ts'
import { targetListOf } from '../target-list-answer.ts'
import { besideList, targetListNow } from '../target-list-now.ts'

const POLICY =
  "default-src 'none'; img-src 'self'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
/** RFC 9110, section 15.5.11. */
const GONE = 410

export function sharedRoutes(house: House): Router {
  const router = Router()

  router.use((_request, response, next) => {
    response.set({
      'Content-Security-Policy': POLICY,
      // The address is the key.
      'Referrer-Policy': 'no-referrer',
      'X-Robots-Tag': 'noindex',
      'Cache-Control': 'no-store',
    })
    next()
  })

  router.get('/:token', async (request, response) => {
    const link = await openLink(house, request.params.token, response)
    if (link === null) return
    const { zone } = await readSettings(house.ledger)
    const list = await targetListOf(house.ledger, link.program_id, house.now())
    response.type('html').send(
      targetSheet(list, {
        photoUrl: ({ photo }) => `/shared/${request.params.token}/photos/${photo!.stillId}`,
        own: null,
        until: stationTime(link.ends_at, zone),
      }),
    )
  })

  router.get('/:token/photos/:still', async (request, response) => {
    const link = await openLink(house, request.params.token, response)
    if (link === null) return
    const stillId = Number(request.params.still)
    if (!(await photosShown(house, link)).includes(stillId)) return closed(response, 404, sharedWords.none)
    const { still } = await findStill(house.ledger, stillId)
    await sendSmall(house.files, still, { request, response })
  })

  router.use((_request, response) => closed(response, 404, sharedWords.none))
  return router
}

/** The link of a token while it stands; else says that it has ended, or that there is none, and gives null. */
async function openLink(house: House, token: string, response: Response): Promise<ShareLinkRow | null> {
  const link = await shareLinkOf(house.ledger, token)
  if (link === undefined) {
    closed(response, 404, sharedWords.none)
    return null
  }
  const ended = linkEnded(link, house.now())
  if (ended === null) return link
  const { zone } = await readSettings(house.ledger)
  closed(response, GONE, sharedWords.ended(dayAndClock(toStationTime(ended.at, zone)), ended.byHand))
  return null
}

function closed(response: Response, status: number, what: string): void {
  response
    .status(status)
    .type('html')
    .send(closedSheet(sharedWords.title, what, sharedWords.remedy))
}

/** The photos that stand on the list now, and no others of the station. */
async function photosShown(house: House, link: ShareLinkRow): Promise<number[]> {
  const now = house.now()
  const standing = await targetListNow(house.ledger, link.program_id, now)
  const pointIds = standing.list.lines.map(({ pointId }) => pointId)
  const { photos } = await besideList(house.ledger, standing, { now, pointIds })
  return [...photos.values()].map(({ stillId }) => stillId)
}
