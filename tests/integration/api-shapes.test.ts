/** What the API answers on a small filled station: every answer by its shape, and the numbers against the photos. */
import sharp from 'sharp'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { z } from 'zod'
import { auditsAnswer, openLooksAnswer } from '../../services/http/audit-shapes.ts'
import { batteriesAnswer } from '../../services/http/battery-shapes.ts'
import { cameraWatchAnswer, watchingAnswer } from '../../services/http/camera-shapes.ts'
import {
  cameraTimesAnswer,
  shiftPreview,
  shiftsAnswer,
  stillTimeAnswer,
} from '../../services/http/clock-shapes.ts'
import { didItWorkAnswer } from '../../services/http/did-it-work-shapes.ts'
import { evidenceAnswer, marksAnswer, modelEvidenceAnswer } from '../../services/http/evidence-shapes.ts'
import { mailboxesAnswer } from '../../services/http/mail-shapes.ts'
import { musterAnswer } from '../../services/http/muster-shapes.ts'
import { kindsAnswer, namerCropsAnswer, namersAnswer } from '../../services/http/own-animal-shapes.ts'
import {
  pastCountFilesAnswer,
  pastCountsAnswer,
  pastCountsComparedAnswer,
} from '../../services/http/past-count-shapes.ts'
import { pressureAnswer, ratingsAnswer, whenTheyComeAnswer } from '../../services/http/pressure-shapes.ts'
import {
  accessAnswer,
  distancesAnswer,
  programHistory,
  programsAnswer,
  shareLinksAnswer,
  targetListAnswer,
  targetVersionsAnswer,
} from '../../services/http/program-shapes.ts'
import {
  cameraShape,
  checkCardsAnswer,
  dayAnswer,
  healthAnswer,
  keepingAnswer,
  keepingPreview,
  nightsAnswer,
  pointAnswer,
  pointShape,
  rerunCountAnswer,
  rerunsAnswer,
  type Still,
  stateShape,
  stationAnswer,
  stillAnswer,
  stillPage,
  type Visit,
  visitPage,
  waterRunAnswer,
  workersAnswer,
} from '../../services/http/shapes.ts'
import { intakeLimitsAnswer, sourcesAnswer } from '../../services/http/source-shapes.ts'
import {
  gateHoursAnswer,
  trapYardsAnswer,
  yardPlanAnswer,
  yardPlansAnswer,
  yardTryAnswer,
} from '../../services/http/trap-yard-shapes.ts'
import {
  jobsAnswer,
  outcomesAnswer,
  trapHoursAnswer,
  trapLogAnswer,
  yardFormAnswer,
  yardSheetAnswer,
} from '../../services/http/yard-shapes.ts'
import { registeredRoutes } from '../unit/http/routes.ts'
import { photoTakenAt, plainPhoto } from './photos.ts'
import { planProgram } from './planned-program.ts'
import { rawAsk } from './raw-ask.ts'
import { MORNING, problemOf, type SetUpCamera, strictly, type TestService } from './service.ts'
import { addPointWithCamera, openStation, sendPhotos } from './station.ts'
import { sendYardEntries } from './yard-entries.ts'

/** Three nights at one point; what is in each source stands in services/demo/stills/truth.json. */
const WREN_PHOTOS = [
  ['galah-well-08.jpg', '2026-11-22T20:00:00+10:30'],
  ['kite-bore-09.jpg', '2026-11-22T20:10:00+10:30'],
  ['kite-bore-03.jpg', '2026-11-23T09:00:00+10:30'],
  ['snakewood-bore-09.jpg', '2026-11-23T21:00:00+10:30'],
  ['galah-well-07.jpg', '2026-11-24T01:30:00+10:30'],
  ['galah-well-04.jpg', '2026-11-24T18:40:00+10:30'],
  ['galah-well-08.jpg', '2026-11-24T22:15:00+10:30'],
  ['kite-bore-09.jpg', '2026-11-24T22:25:00+10:30'],
  ['galah-well-09.jpg', '2026-11-24T23:20:00+10:30'],
  ['galah-well-00.jpg', '2026-11-25T05:50:00+10:30'],
] as const

let service: TestService
let wren: SetUpCamera
let swift: SetUpCamera

beforeAll(async () => {
  service = await openStation()
  const since = '2026-11-22T12:00:00+10:30'
  wren = await addPointWithCamera(service, { name: 'Wren Bore', hasYard: true }, { since })
  swift = await addPointWithCamera(service, { name: 'Swift Tank', kind: 'tank' })
  await sendPhotos(service, wren, WREN_PHOTOS)
  await sendPhotos(service, swift, [
    ['kite-bore-12.jpg', '2026-11-24T19:00:00+10:30'],
    ['kite-bore-12.jpg', '2090-11-24T19:00:00+10:30'],
  ])
  await service.post('/api/stills', swift, Buffer.from('no photo'))
  for (const at of ['2026-11-22T18:00:00+10:30', '2026-11-23T18:00:00+10:30', '2026-11-24T18:00:00+10:30']) {
    await service.tell('/api/heartbeats', wren, { at, batteryPercent: 80 })
  }
  await service.tell('/api/levels', swift, { levelPercent: 30 })
  await service.send('POST', `/api/points/${wren.pointId}/states`, { kind: 'trap open' })
  await service.send('POST', '/api/trap-yards/other-water', {
    pointIds: [wren.pointId],
    isSure: true,
    openPointIds: [swift.pointId],
  })
  await service.send('POST', '/api/trap-yards/plans', {
    name: 'Camels at Wren Bore',
    species: 'camel',
    pointIds: [wren.pointId],
    fromNight: '2026-12-01',
    nights: 7,
    hours: { from: 20, to: 4.5 },
  })
  await service.waitUntilRead()
  await sendYardEntries(service, wren.pointId)
  // A program that has begun: what is told of it before and after has both.
  await planProgram(service, wren.pointId, { fromNight: '2026-11-24', toNight: '2026-11-24' })
  const { stills } = stillPage.parse((await service.ask('/api/stills?night=2026-11-22')).json)
  await service.send('POST', '/api/checks', {
    words: stills.map(({ id }) => ({ stillId: id, verdict: 'agreed' })),
  })
})
afterAll(() => service?.stop())

const allStills = async (question = '') =>
  strictly(stillPage, await service.ask(`/api/stills?limit=200${question}`)).stills
const allVisits = async () => strictly(visitPage, await service.ask('/api/visits?limit=200')).visits

describe('every answer has its shape and nothing else', () => {
  const SHAPES: Readonly<Record<string, z.ZodType>> = {
    '/api/station': stationAnswer,
    '/api/points': z.object({ points: z.array(pointShape) }),
    '/api/points/:id': pointAnswer,
    '/api/points/:id/day': dayAnswer,
    '/api/points/:id/nights': nightsAnswer,
    '/api/cameras': z.object({ cameras: z.array(cameraShape) }),
    '/api/cameras/:id/sources': sourcesAnswer,
    '/api/k/:key/heartbeats': z.object({ known: z.boolean() }),
    '/api/k/:key/levels': z.object({ state: stateShape }),
    '/api/batteries': batteriesAnswer,
    '/api/intake-limits': intakeLimitsAnswer,
    '/api/water-run': waterRunAnswer,
    '/api/past-counts': pastCountFilesAnswer,
    '/api/past-counts/compared': pastCountsComparedAnswer,
    '/api/points/:id/past-counts': pastCountsAnswer,
    '/api/pressure': pressureAnswer,
    '/api/when-they-come': whenTheyComeAnswer,
    '/api/ratings': ratingsAnswer,
    '/api/trap-yards': trapYardsAnswer,
    '/api/trap-yards/try': yardTryAnswer,
    '/api/trap-yards/hours': gateHoursAnswer,
    '/api/trap-yards/plans': yardPlansAnswer,
    '/api/trap-yards/plans/:id': yardPlanAnswer,
    '/api/stills': stillPage,
    '/api/stills/:id': stillAnswer,
    '/api/visits': visitPage,
    '/api/checks/cards': checkCardsAnswer,
    '/api/audits': auditsAnswer,
    '/api/audits/looks': openLooksAnswer,
    '/api/evidence': evidenceAnswer,
    '/api/evidence/models': modelEvidenceAnswer,
    '/api/evidence/marks': marksAnswer,
    '/api/mailboxes': mailboxesAnswer,
    '/api/cameras/watch': cameraWatchAnswer,
    '/api/cameras/:id/times': cameraTimesAnswer,
    '/api/points/:id/watching': watchingAnswer,
    '/api/shifts': shiftsAnswer,
    '/api/shifts/preview': shiftPreview,
    '/api/stills/:id/time': stillTimeAnswer,
    '/api/keeping': keepingAnswer,
    '/api/keeping/preview': keepingPreview,
    '/api/reruns': rerunsAnswer,
    '/api/reruns/count': rerunCountAnswer,
    '/api/kinds': kindsAnswer,
    '/api/namers': namersAnswer,
    '/api/muster': musterAnswer,
    '/api/programs/:id/did-it-work': didItWorkAnswer,
    '/api/namers/crops': namerCropsAnswer,
    '/api/outcomes': outcomesAnswer,
    '/api/programs/:id/outcomes': outcomesAnswer,
    '/api/points/:id/trap-log': trapLogAnswer,
    '/api/trap-hours': trapHoursAnswer,
    '/api/yard-form': yardFormAnswer,
    '/api/yard-sheet': yardSheetAnswer,
    '/api/jobs': jobsAnswer,
    '/api/programs': programsAnswer,
    '/api/programs/:id': programHistory,
    '/api/programs/:id/target-list': targetListAnswer,
    '/api/programs/:id/target-list/versions': targetVersionsAnswer,
    '/api/programs/:id/links': shareLinksAnswer,
    '/api/access': accessAnswer,
    '/api/distances': distancesAnswer,
    '/api/workers': workersAnswer,
    '/api/health': healthAnswer,
  }
  const QUERIES: Readonly<Record<string, string>> = {
    '/api/k/:key/levels': '?levelPercent=30',
    '/api/shifts/preview': '?still=1&takenAt=2026-11-22T20:30:00%2B10:30&run=all',
    '/api/points/:id/watching': '?from=2026-11-22&to=2026-11-24',
    '/api/evidence/marks': '?species=camel',
    '/api/trap-yards/try': '?species=camel&points=1',
    '/api/trap-yards/hours': '?species=camel&points=1&from=20&to=4',
    '/api/when-they-come': '?point=1&species=camel&other=cattle',
  }
  const reads = registeredRoutes().filter(
    ({ method, path }) =>
      method === 'GET' &&
      !/\/(small|full)$|\.(csv|html|gpx|kml|geojson|ics)$|^\/shared\/|^\/api\/worker\/|^\/metrics$|^\/api\/(events|training-set)$/.test(
        path,
      ),
  )
  test.each(reads)('GET $path', async ({ path }) => {
    const shape = SHAPES[path]
    expect(shape, 'a route without a shape').toBeDefined()
    const query = QUERIES[path] ?? ''
    strictly(shape!, await service.ask(`${path.replace(':id', '1').replace(':key', swift.key)}${query}`))
  })
  test('answers are never kept by a browser', async () => {
    expect((await service.ask('/api/water-run')).headers.get('cache-control')).toBe('no-store')
  })
})

describe('numbers open down to the photos behind them', () => {
  test('each visit is its photos: first, last, how many, and the most in any one', async () => {
    const visits = await allVisits()
    expect(new Set(visits.map(({ species }) => species)).size).toBeGreaterThanOrEqual(3)
    for (const visit of visits) {
      const stills = await allStills(`&visit=${visit.id}`)
      const times = stills.map(({ takenAt }) => takenAt).sort()
      const heads = stills.map(({ tally }) => tally[visit.species] ?? 0)
      expect(visit).toMatchObject({
        photos: stills.length,
        startedAt: times[0],
        endedAt: times.at(-1),
        peak: Math.max(...heads),
      })
      expect(stills.find(({ id }) => id === visit.bestStillId)).toBeDefined()
    }
  })
  test('each done photo with a trusted clock is in one visit of each species on it', async () => {
    const visits = await allVisits()
    for (const still of await allStills('&state=done')) {
      for (const species of Object.keys(still.tally)) {
        const holding = visits.filter((visit) => visit.species === species && holds(visit, still))
        expect(holding).toHaveLength(still.clockDoubt === null ? 1 : 0)
      }
    }
  })
  test('photos more than the gap apart are two visits: 22:15 and 22:25 are one, 23:20 is another', async () => {
    const camels = (await allVisits()).filter(
      ({ species, pointId, night }) =>
        species === 'camel' && pointId === wren.pointId && night === '2026-11-24',
    )
    expect(camels.map(({ startedAt, photos }) => [startedAt.slice(11, 16), photos])).toEqual([
      ['23:20', 1],
      ['22:15', 2],
    ])
  })
  test('a night’s bars are its visits', async () => {
    const visits = await allVisits()
    const { nights } = strictly(nightsAnswer, await service.ask(`/api/points/${wren.pointId}/nights`))
    for (const { night, species } of nights) {
      const ofNight = visits.filter((visit) => visit.night === night && visit.pointId === wren.pointId)
      expect(new Set(species.map((one) => one.species))).toEqual(new Set(ofNight.map((one) => one.species)))
      for (const bar of species) {
        const peaks = ofNight.filter((visit) => visit.species === bar.species).map(({ peak }) => peak)
        expect([bar.visits, bar.sumOfPeaks, bar.least]).toEqual([
          peaks.length,
          peaks.reduce((a, b) => a + b, 0),
          Math.max(...peaks),
        ])
      }
    }
  })
  test('the water run’s feral row is the night’s visits; cattle are stock and not in it', async () => {
    const { rows, night } = strictly(waterRunAnswer, await service.ask('/api/water-run'))
    expect(night).toBe('2026-11-24')
    const row = rows.find(({ point }) => point.id === wren.pointId)!
    const camels = (await allVisits()).filter(
      (visit) => visit.species === 'camel' && visit.night === night && visit.pointId === wren.pointId,
    )
    expect(row.feral.map(({ species }) => species)).toEqual(['camel'])
    expect(row.feral[0]).toMatchObject({
      visits: camels.length,
      peak: Math.max(...camels.map(({ peak }) => peak)),
      firstAt: '2026-11-24T22:15:00+10:30',
      lastAt: '2026-11-24T23:20:00+10:30',
    })
  })
  test('a photo in doubt and one that cannot be read are counted on the row, and in no visit', async () => {
    const { rows } = strictly(waterRunAnswer, await service.ask('/api/water-run'))
    expect(rows.find(({ point }) => point.id === swift.pointId)).toMatchObject({
      unreadable: 1,
      clockInDoubt: 1,
    })
    expect((await allVisits()).every(({ night }) => night < '2026-12-01')).toBe(true)
  })
  test('what waits to be checked falls as photos are checked', async () => {
    const cardsOf = async (night: string) =>
      strictly(checkCardsAnswer, await service.ask(`/api/checks/cards?night=${night}`))
    expect(await cardsOf('2026-11-22')).toMatchObject({ waiting: 0, checked: 1 })
    const { rows } = strictly(waterRunAnswer, await service.ask('/api/water-run?night=2026-11-24'))
    const onCards = (await cardsOf('2026-11-24')).cards.flatMap(({ stills }) => stills)
    expect(rows.reduce((sum, row) => sum + row.toCheck, 0)).toBe(onCards.length)
  })
  test('boxes lie inside their photo, best first', async () => {
    for (const { boxes, width, height } of await allStills('&state=done')) {
      for (const { box } of boxes) {
        const [x0, y0, x1, y1] = box
        expect(0 <= x0 && x0 < x1 && x1 <= width! && 0 <= y0 && y0 < y1 && y1 <= height!).toBe(true)
      }
      expect(boxes.map(({ score }) => score)).toEqual(boxes.map(({ score }) => score).sort((a, b) => b - a))
    }
  })
})

describe('lists by pages', () => {
  async function pagesOf<Row>(path: string, read: (answer: unknown) => { rows: Row[]; next: string | null }) {
    const rows: Row[] = []
    let next: string | null = ''
    let pages = 0
    while (next !== null) {
      const cursor = next === '' ? '' : `&cursor=${next}`
      const page = read((await service.ask(`${path}?limit=2${cursor}`)).json)
      expect(page.rows.length).toBeLessThanOrEqual(2)
      rows.push(...page.rows)
      next = page.next
      pages += 1
      // A new photo comes between two pages, newer than all.
      const minute = String(pages).padStart(2, '0')
      await service.post(
        '/api/stills',
        swift,
        await photoTakenAt('galah-well-04.jpg', `2026-11-25T04:${minute}:00+10:30`),
      )
    }
    return rows
  }

  test('pages of two give every photo once, newest first, while new ones arrive', async () => {
    const before = await allStills()
    const given = await pagesOf('/api/stills', (json) => {
      const { stills, next } = stillPage.parse(json)
      return { rows: stills, next }
    })
    const ids = given.map(({ id }) => id)
    expect(new Set(ids).size).toBe(ids.length)
    expect(ids.filter((id) => before.some((still) => still.id === id))).toEqual(before.map(({ id }) => id))
    const times = given.map(({ takenAt }) => Date.parse(takenAt))
    expect(times).toEqual([...times].sort((a, b) => b - a))
  })
  test('and every visit once', async () => {
    await service.waitUntilRead()
    const before = await allVisits()
    const given = await pagesOf('/api/visits', (json) => {
      const { visits, next } = visitPage.parse(json)
      return { rows: visits, next }
    })
    const ids = given.map(({ id }) => id)
    expect(new Set(ids).size).toBe(ids.length)
    expect(ids.filter((id) => before.some((visit) => visit.id === id))).toEqual(before.map(({ id }) => id))
    await service.waitUntilRead()
  })
  test('photos of one instant are told apart by their ids', async () => {
    for (const name of ['a', 'b', 'c', 'd', 'e']) {
      await service.post('/api/stills', swift, Buffer.from(`no photo ${name}`), {
        'X-Taken-At': '2026-11-21T10:00:00Z',
      })
    }
    const ids: number[] = []
    let next: string | null = ''
    while (next !== null) {
      const cursor: string = next === '' ? '' : `&cursor=${next}`
      const page = stillPage.parse((await service.ask(`/api/stills?state=unreadable&limit=1${cursor}`)).json)
      ids.push(...page.stills.map(({ id }) => id))
      next = page.next
    }
    expect([ids.length, new Set(ids).size]).toEqual([6, 6])
  })
})

describe('pictures', () => {
  const one = async () => (await allStills(`&point=${wren.pointId}&state=done`))[0]!

  test('the small one is WebP and at most 640 px on its longest side', async () => {
    const answer = await service.ask((await one()).smallUrl)
    expect(answer.headers.get('content-type')).toBe('image/webp')
    const { format, width, height } = await sharp(answer.bytes).metadata()
    expect([format, width, height]).toEqual(['webp', 640, 360])
  })
  test('a photo smaller than that is not blown up', async () => {
    const small = await sharp(await plainPhoto('galah-well-00.jpg'))
      .resize(320)
      .jpeg()
      .toBuffer()
    await service.post('/api/stills', swift, small, { 'X-Taken-At': '2026-11-21T11:00:00Z' })
    await service.waitUntilRead()
    const still = (await allStills('&night=2026-11-21&state=done'))[0]!
    const { width } = await sharp((await service.ask(still.smallUrl)).bytes).metadata()
    expect(width).toBe(320)
  })
  test('one taken on its side is shown upright (EXIF orientation 6)', async () => {
    const onItsSide = await sharp(await plainPhoto('galah-well-00.jpg'))
      .withMetadata({ orientation: 6 })
      .jpeg()
      .toBuffer()
    await service.post('/api/stills', swift, onItsSide, { 'X-Taken-At': '2026-11-20T11:00:00Z' })
    await service.waitUntilRead()
    const still = (await allStills('&night=2026-11-20'))[0]!
    expect([still.width, still.height]).toEqual([540, 960])
    const { width, height } = await sharp((await service.ask(still.smallUrl)).bytes).metadata()
    expect([width, height]).toEqual([360, 640])
  })
  test.each(['small', 'full'] as const)(
    '%s: kept for good, and not sent again to who has it',
    async (size) => {
      const path = `/api/stills/${(await one()).id}/${size}`
      const first = await service.ask(path)
      const tag = first.headers.get('etag')!
      expect(tag).toMatch(/^"[0-9a-f]{64}(-small)?"$/)
      expect(first.headers.get('cache-control')).toBe('private, max-age=31536000, immutable')
      // fetch would ask past every cache when a test names a tag.
      const ask = (tagHeld: string) => rawAsk(service, path, { headers: { 'If-None-Match': tagHeld } })
      expect(await ask(tag)).toEqual({ status: 304, body: '' })
      expect((await ask('"another"')).status).toBe(200)
    },
  )
  test('the two sizes have tags of their own', async () => {
    const { smallUrl, fullUrl } = await one()
    const tags = await Promise.all(
      [smallUrl, fullUrl].map(async (url) => (await service.ask(url)).headers.get('etag')),
    )
    expect(tags[0]).not.toBe(tags[1])
  })
  test('what cannot be read is offered as a file, never shown as a page', async () => {
    const still = (await allStills('&state=unreadable'))[0]!
    const { headers } = await service.ask(still.fullUrl)
    expect(headers.get('content-type')).toBe('application/octet-stream')
    expect(headers.get('content-disposition')).toContain('attachment')
    expect(headers.get('x-content-type-options')).toBe('nosniff')
  })
  test('an odd range is answered with the whole', async () => {
    const answer = await service.ask((await one()).fullUrl, { headers: { Range: 'bytes=99999999-' } })
    expect(answer.status).toBe(200)
  })
  test('a file that is gone from the data folder is said so, and that answer is not kept', async () => {
    const { id, fullUrl } = (await allStills('&night=2026-11-20'))[0]!
    const { hash } = await service.house.ledger
      .selectFrom('stills')
      .select('hash')
      .where('id', '=', id)
      .executeTakeFirstOrThrow()
    await service.house.files.drop(hash)
    const answer = await service.ask(fullUrl)
    expect(problemOf(answer, 404).detail).toContain('data folder')
    expect(answer.headers.get('cache-control')).toBe('no-store')
    expect(answer.headers.get('etag')).not.toMatch(/^"[0-9a-f]{64}"$/)
  })
})

describe('the last day as a film strip', () => {
  const dayUntil = async (until?: string) => {
    const question = until === undefined ? '' : `?until=${encodeURIComponent(until)}`
    return strictly(dayAnswer, await service.ask(`/api/points/${wren.pointId}/day${question}`))
  }
  test('24 hours that begin on the full hour of the station’s clock, half an hour off that of UTC', async () => {
    const day = await dayUntil()
    expect(day.until).toBe(MORNING)
    expect(day.from).toBe('2026-11-24T07:00:00+10:30')
    expect(day.hours.map(({ startsAt }) => startsAt.slice(11))).toEqual(
      Array.from({ length: 24 }, (_, i) => `${String((i + 7) % 24).padStart(2, '0')}:00:00+10:30`),
    )
  })
  test('each photo of the day stands in its hour', async () => {
    const { hours } = await dayUntil()
    const filled = hours.filter(({ stills }) => stills.length > 0)
    expect(filled.map(({ startsAt, stills }) => [startsAt.slice(11, 13), stills.length])).toEqual([
      ['18', 1],
      ['22', 2],
      ['23', 1],
      ['05', 1],
    ])
  })
  test('watched up to the last contact; after it nobody can say yet', async () => {
    // The last contact is the photo of 05:50, with a heartbeat within 26 h before it.
    const { hours } = await dayUntil()
    expect(hours.slice(0, -1).every(({ watched }) => watched === 'yes')).toBe(true)
    expect(hours.at(-1)?.watched).toBe('not yet known')
  })
  test('on the full hour, the hour that has only begun is not yet known', async () => {
    const { hours } = await dayUntil('2026-11-25T06:00:00+10:30')
    expect(hours.at(-1)).toMatchObject({ startsAt: '2026-11-25T06:00:00+10:30', watched: 'not yet known' })
  })
  test('over a clock change there are still 24 hours, one after the other', async () => {
    // Clocks there went from 02:00 +09:30 to 03:00 +10:30 on 2026-10-04 (IANA time zone database).
    const { hours } = await dayUntil('2026-10-04T12:20:00+10:30')
    const starts = hours.map(({ startsAt }) => Date.parse(startsAt))
    expect(starts.slice(1).every((at, i) => at - starts[i]! === 3_600_000)).toBe(true)
    const clock = hours.map(({ startsAt }) => startsAt.slice(11, 16))
    expect(clock).toContain('01:00')
    expect(clock).not.toContain('02:00')
    expect(clock.every((time) => time.endsWith(':00'))).toBe(true)
  })
})

describe('nights of a point', () => {
  const nightsOf = async (question: string) =>
    strictly(nightsAnswer, await service.ask(`/api/points/${wren.pointId}/nights${question}`)).nights

  test('28 nights to this one, unless asked otherwise', async () => {
    const nights = await nightsOf('')
    expect([nights.length, nights[0]?.night, nights.at(-1)?.night]).toEqual([28, '2026-10-28', '2026-11-24'])
  })
  test('both ends are included', async () => {
    const nights = await nightsOf('?from=2026-11-22&to=2026-11-24')
    expect(nights.map(({ night }) => night)).toEqual(['2026-11-22', '2026-11-23', '2026-11-24'])
  })
  test('a night before the camera stood was not watched, which is not the same as no animals', async () => {
    const [before] = await nightsOf('?from=2026-11-20&to=2026-11-20')
    expect(before).toEqual({ night: '2026-11-20', watched: 0, species: [] })
  })
  test('a night that has not begun has no watched share', async () => {
    expect((await nightsOf('?from=2026-11-26&to=2026-11-26'))[0]?.watched).toBeNull()
  })
  test('a night with contacts close enough was watched whole', async () => {
    expect((await nightsOf('?from=2026-11-23&to=2026-11-23'))[0]?.watched).toBe(1)
  })
})

test('nothing above was an unforeseen fault', () => {
  expect(service.log.filter((line) => /^(GET|POST|PUT|PATCH) /.test(line))).toEqual([])
})

function holds(visit: Visit, still: Still): boolean {
  const at = Date.parse(still.takenAt)
  return (
    visit.pointId === still.pointId && Date.parse(visit.startedAt) <= at && at <= Date.parse(visit.endedAt)
  )
}
