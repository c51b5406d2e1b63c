/** Whatever is sent to whichever door, the answer is never an unforeseen fault, and a refusal says what to do. */
import fc from 'fast-check'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { problemShape, workerKeyMade } from '../../services/http/shapes.ts'
import { modelsFolder } from '../../services/paths.ts'
import { USUAL_MUSTER } from '../../services/planning/muster-figures.ts'
import { readModels } from '../../worker/eye/manifest.ts'
import { registeredRoutes } from '../unit/http/routes.ts'
import type { SetUpCamera, TestService } from './service.ts'
import { addCamera, addPoint, openStation, sendPhotos } from './station.ts'

let service: TestService
/** Its id is none of those asked for below, so that nobody renews its key. */
let camera: SetUpCamera
/** Nor is its: nobody revokes it. */
let workerKey: string

beforeAll(async () => {
  service = await openStation()
  const pointId = await addPoint(service, { name: 'Wren Bore' })
  for (const name of ['Wren camera', 'Wren far camera']) await addCamera(service, { name, pointId })
  camera = await addCamera(service, { name: 'Sending camera', pointId })
  await sendPhotos(service, camera, [['galah-well-04.jpg', '2026-11-24T21:00:00+10:30']])
  await service.waitUntilRead()
  await service.send('POST', '/api/programs', RIGHT_PROGRAM)
  for (const name of ['Shed', 'Office', 'Sending']) {
    const answer = await service.send('POST', '/api/workers/keys', { name })
    workerKey = workerKeyMade.parse(answer.json).key
  }
})
afterAll(() => service?.stop())

const { identity: OWN_MODELS } = await readModels(modelsFolder)

const RIGHT_PLAN = {
  name: 'A',
  species: 'camel',
  pointIds: [1],
  fromNight: '2026-12-01',
  nights: 7,
  hours: { from: 20, to: 4.5 },
  cattleShare: 0.1,
  note: 'B',
}

const RIGHT_PROGRAM = {
  name: 'A',
  species: 'camel',
  method: 'trap yard',
  fromNight: '2026-12-07',
  toNight: '2026-12-11',
  note: null,
  who: 'Ash',
}

/** Nothing answers at its port, so whatever becomes of it, nobody is asked anything. */
const RIGHT_MAILBOX = {
  name: 'A',
  host: '127.0.0.1',
  port: 1,
  security: 'none',
  plainByOwner: false,
  certificateSha256: null,
  userName: 'B',
  password: 'C',
  folder: 'INBOX',
  afterTaking: 'file',
  fileTo: 'Taken',
  pollMinutes: 5,
  isOn: false,
  rules: [{ cameraId: 1, kind: 'tag', words: 'D' }],
}

/** A request to each route that is right; what is sent is this with something bent. */
const RIGHT: Readonly<Record<string, { readonly body?: object; readonly question?: object }>> = {
  'PUT /api/station': {
    body: {
      name: 'Thornbill Plains',
      zone: 'Australia/Adelaide',
      homestead: { lat: -28, lon: 135 },
      visitGapMinutes: 30,
      cattleAwayHours: 72,
      species: [{ species: 'horse', role: 'stock', countThreshold: 0.5, flagThreshold: 0.3 }],
    },
  },
  'POST /api/points': {
    body: {
      name: 'A',
      kind: 'bore',
      lat: -28,
      lon: 135,
      hasYard: true,
      runOrder: 3,
      lowMarkPercent: 30,
      dryMarkPercent: 3,
    },
  },
  'PATCH /api/points/:id': { body: { kind: 'tank', lat: -28, runOrder: 1, dryMarkPercent: 4 } },
  'POST /api/points/:id/states': { body: { kind: 'rain', at: '2026-11-20T00:00:00Z', note: '12 mm' } },
  'POST /api/mailboxes': { body: RIGHT_MAILBOX },
  'PATCH /api/mailboxes/:id': { body: { ...RIGHT_MAILBOX, port: 1 } },
  'POST /api/cameras/:id/card/known': { body: { hashes: ['ab'.repeat(32)] } },
  'POST /api/past-counts': { question: { name: 'A', who: 'Ash' } },
  'DELETE /api/past-counts/:id': { question: { who: 'Ash' } },
  'GET /api/past-counts/compared': { question: { week: '2026-W40' } },
  'POST /api/cameras': {
    body: {
      name: 'B',
      pointId: 1,
      zone: 'UTC',
      clockErrorSeconds: 5,
      expectedSilenceHours: 26,
      sendsHeartbeats: false,
      scheduleMinutes: 10,
      since: '2026-11-01T00:00:00Z',
    },
  },
  'PATCH /api/cameras/:id': {
    body: {
      pointId: 1,
      zone: null,
      clockErrorSeconds: 9,
      expectedSilenceHours: 5,
      sendsHeartbeats: false,
      scheduleMinutes: null,
    },
  },
  'POST /api/heartbeats': {
    body: {
      at: '2026-11-20T00:00:00Z',
      batteryPercent: 5,
      temperatureC: 40,
      signalPercent: 3,
      freeBytes: 12,
    },
  },
  'POST /api/levels': { body: { levelPercent: 50, at: '2026-11-20T00:00:00Z' } },
  'POST /api/checks': {
    body: {
      batch: '7d9a3f0e-2a4b-4c1d-9e57-3c1f0a6b8d21',
      who: 'Ash',
      words: [
        {
          stillId: 1,
          verdict: 'corrected',
          counts: { camel: 2, goat: 0 },
          others: { sheep: 2 },
          marks: ['ours', 'person'],
          boxes: [{ species: 'camel', box: [1, 2, 30, 40] }],
        },
      ],
    },
  },
  'PUT /api/cameras/:id/times': {
    body: { times: [{ pointId: 1, from: '2026-11-01T00:00:00Z', to: null }], who: 'Bo', note: 'moved' },
  },
  'POST /api/cameras/:id/troubles/:trouble/words': {
    body: { word: 'set right', setRightAt: '2026-11-20T00:00:00Z', who: 'Bo', note: 'wiped' },
  },
  'GET /api/points/:id/watching': { question: { from: '2026-11-20', to: '2026-11-24' } },
  'POST /api/points/:id/watching': {
    body: { night: '2026-11-20', share: 0.5, who: 'Bo', note: 'sat there' },
  },
  'GET /api/shifts': { question: { camera: 1 } },
  'GET /api/shifts/preview': { question: { still: 1, takenAt: '2026-11-20T00:00:00Z', run: 'all' } },
  'POST /api/shifts': {
    body: { stillId: 1, takenAt: '2026-11-20T00:00:00Z', run: 'photo', who: 'Bo', note: 'a day ahead' },
  },
  'POST /api/shifts/:id/undo': { body: { who: 'Bo', note: 'no' } },
  'PUT /api/keeping': { body: { empties: 'drop', afterDays: 30 } },
  'GET /api/keeping/preview': { question: { empties: 'shrink', afterDays: 30 } },
  'POST /api/reruns': {
    body: {
      from: '2026-11-01',
      to: '2026-11-24',
      pointIds: [1],
      cameraIds: [1, 2],
      unreadableToo: true,
    },
  },
  'GET /api/reruns/count': {
    question: { from: '2026-11-01', to: '2026-11-24', pointIds: '1,2', unreadableToo: 'yes' },
  },
  'GET /api/trap-yards': { question: { species: 'camel' } },
  'GET /api/trap-yards/try': { question: { species: 'camel', points: '1' } },
  'GET /api/trap-yards/hours': {
    question: { species: 'goat', points: '1', cattleShare: 0.2, mostHours: 9, from: 20, to: 4.5, nights: 3 },
  },
  'PUT /api/trap-yards/means': { body: { portableYards: 2, nightsSet: 9, openWeeks: 3, checkingWeeks: 0 } },
  'PUT /api/trap-yards/ranges': { body: { species: 'camel', range: { km: 30, source: 'collars' } } },
  'POST /api/trap-yards/other-water': { body: { pointIds: [1], isSure: true, elsewhere: 'the creek' } },
  'POST /api/trap-yards/first-used': { body: { pointId: 1, species: 'camel', on: '2026-11-01' } },
  'POST /api/trap-yards/plans': { body: RIGHT_PLAN },
  'PUT /api/trap-yards/plans/:id': { body: { ...RIGHT_PLAN, version: 1 } },
  'DELETE /api/trap-yards/plans/:id': { body: { version: 1 } },
  'POST /api/programs': { body: RIGHT_PROGRAM },
  'PATCH /api/programs/:id': { body: { name: 'B', toNight: '2026-12-20', note: 'late', who: 'Bo' } },
  'POST /api/programs/:id/words': { body: { word: 'taken up again', who: 'Bo' } },
  'POST /api/programs/:id/target-list': {
    body: { version: 0, edit: { kind: 'add', pointId: 1 }, who: 'Bo' },
  },
  'POST /api/programs/:id/links': { body: { days: 3, forWhom: 'Bo', who: 'Ash' } },
  'PUT /api/points/:id/access': {
    body: { road: 'sandy', gates: 'two', wetSeason: null, turnaround: 'beside the tank', who: 'Bo' },
  },
  'POST /api/distances': { body: { distances: [{ from: 'home', to: 1, km: 12.5 }], who: 'Bo' } },
  'PUT /api/driving': { body: { kmAnHour: 50, minutesAtPoint: 20 } },
  'POST /api/outcomes': {
    body: {
      who: 'Ash',
      words: [
        {
          ...{ kind: 'taken', id: '6a1f0c52-1d2e-4b7a-8f3c-5d6e7f801234', pointId: 1, species: 'camel' },
          ...{ day: '2026-11-20', method: 'trap yard', head: 4, fate: 'trucked', class: 'cows' },
          ...{ effort: { amount: 1, unit: 'nights' }, carrier: 'B', paper: 'C', note: 'D' },
        },
      ],
    },
  },
  'GET /api/outcomes': { question: { point: 1, from: '2026-11-01', to: '2026-11-24', limit: 5 } },
  'GET /api/outcomes.csv': { question: { point: 1, from: '2026-11-01', to: '2026-11-24', which: 'all' } },
  'POST /api/trap-log': {
    body: {
      words: [
        {
          ...{ kind: 'visited', id: '6a1f0c52-1d2e-4b7a-8f3c-5d6e7f805678', pointId: 1, note: 'E' },
          ...{ at: '2026-11-20T00:00:00Z', held: 3, heldSince: '2026-11-19T00:00:00Z', species: 'camel' },
        },
      ],
    },
  },
  'GET /api/trap-log.csv': { question: { point: 1, from: '2026-11-01', to: '2026-11-24', which: 'all' } },
  'GET /api/points/:id/trap-log': { question: { limit: 5 } },
  'PUT /api/trap-hours': { body: { hours: 12 } },
  'PUT /api/points/:id/trap-hours': { body: { hours: 6.5 } },
  'GET /api/jobs': { question: { which: 'all', limit: 5 } },
  'POST /api/jobs': {
    body: {
      ...{ id: '6a1f0c52-1d2e-4b7a-8f3c-5d6e7f809abc', stillId: 1, trouble: 'other' },
      ...{ who: 'Ash', person: 'Robin', note: 'F' },
    },
  },
  'POST /api/jobs/:id/words': {
    body: { id: '6a1f0c52-1d2e-4b7a-8f3c-5d6e7f80def0', word: 'handed on', person: 'Casey', note: 'G' },
  },
  'POST /api/workers/keys': { body: { name: 'Shed' } },
  'POST /api/workers/join': { body: { name: 'shed 1', version: '0.1.0', models: OWN_MODELS } },
  'POST /api/workers/word': {
    body: { name: 'shed 1', version: '0.1.0', done: 3, failed: 0, photosAnHour: 900 },
  },
  'POST /api/worker/results': {
    body: {
      results: [
        {
          kind: 'seen',
          stillId: 1,
          urgency: 'today',
          models: OWN_MODELS,
          width: 640,
          height: 360,
          found: [
            {
              species: 'goat',
              score: 0.9,
              box: [1, 2, 30, 40],
              detector: [0.1, 0.1, 0.1, 0.1, 0.9, 0.1],
              namer: null,
              embedding: 'AAAA',
            },
          ],
        },
      ],
    },
  },
  'PUT /api/muster': {
    body: {
      madeOn: 0,
      note: 'dry',
      figures: {
        ...USUAL_MUSTER,
        endBy: '2027-01-31',
        mostHoursOffWater: 48,
        order: [1],
        points: [
          {
            pointId: 1,
            leftOut: false,
            head: { low: 10, high: 20 },
            fixedYard: true,
            km: 10,
            musterHours: 5,
            waterDays: 3,
            feedKg: { low: 100, high: 1_000 },
            note: 'sandy',
          },
        ],
      },
    },
  },
  'GET /api/muster': { question: { version: 1 } },
  'GET /api/programs/:id/did-it-work': {
    question: { before: 14, after: 7, points: '1', round: 'week', effort: 'equal', share: 90 },
  },
  'GET /api/worker/stills/:id': { question: { bytes: 'no' } },
  'GET /api/stills': {
    question: {
      point: 1,
      camera: 1,
      night: '2026-11-24',
      species: 'cattle',
      state: 'done',
      limit: 5,
      cursor: 'MTc2LjE',
    },
  },
  'GET /api/visits': {
    question: { point: 1, species: 'cattle', from: '2026-11-01', to: '2026-11-24', limit: 5 },
  },
  'GET /api/points/:id/nights': { question: { from: '2026-11-01', to: '2026-11-24' } },
  'GET /api/points/:id/day': { question: { until: '2026-11-24T21:00:00+10:30' } },
  'GET /api/water-run': { question: { night: '2026-11-24' } },
  'GET /api/checks/cards': {
    question: { night: '2026-11-24', which: 'plain', order: 'teaches', limit: 5 },
  },
}

/** At and past the edges of what doors, calendars and columns hold. */
const edge = fc.oneof(
  {
    weight: 3,
    arbitrary: fc.constantFrom<unknown>(
      ...[
        '1970-01-01T00:00:00Z',
        '9998-12-31T23:59:59-14:00',
        '9998-12-31T23:59:59Z',
        '0000-01-01T00:00:00Z',
        '2000-01-02T00:00:00Z',
      ],
      ...[
        '1970-01-01',
        '9998-12-31',
        '9999-12-31',
        '2026-11-25',
        '+10:30',
        'Etc/GMT-14',
        'water off',
        'agreed',
        'goat',
      ],
      ...['', ' ', '\u0000', '\ud800', '__proto__', '\u202e', 'x'.repeat(81)],
      ...[0, 1, -1, 0.5, 2, 99.5, 400, 999, 2 ** 31 - 1, 2 ** 31, 2 ** 53, 1e300, -1e300, 1e-300],
      ...[true, false, null, [], {}, [[]], ['a'], { a: 1 }],
    ),
  },
  { weight: 1, arbitrary: fc.string({ maxLength: 12 }) },
  { weight: 1, arbitrary: fc.double({ noNaN: true }) },
)
/** Which part is bent, and to what; `null` takes it away. */
const bends = fc.array(fc.tuple(fc.nat(), fc.option(edge, { nil: undefined, freq: 6 })), { maxLength: 2 })

/** One of the parts of a record, however deep, replaced. */
function bend(right: unknown, where: number, edge: unknown): unknown {
  if (typeof right !== 'object' || right === null) return edge
  const keys = Object.keys(right)
  const key = keys[where % (keys.length + 1)]
  if (key === undefined) return Array.isArray(right) ? [...right, edge] : { ...right, [String(edge)]: edge }
  const parts: ReadonlyArray<readonly [string, unknown]> = Object.entries(right).map(([name, part]) =>
    name === key ? [name, bend(part, Math.floor(where / (keys.length + 1)), edge)] : [name, part],
  )
  return Array.isArray(right) ? parts.map(([, part]) => part) : Object.fromEntries(parts)
}

const request = fc.record({
  // A stream of events never ends, and takes nothing that could be bent; what is shared answers in pages, for people.
  route: fc.constantFrom(
    ...registeredRoutes().filter(({ path }) => path !== '/api/events' && !path.startsWith('/shared/')),
  ),
  id: fc.oneof(
    { weight: 6, arbitrary: fc.constant('1') },
    {
      weight: 1,
      arbitrary: fc.constantFrom('0', '2', '-1', '1.5', '2147483648', '1e3', '%00', '%ff', 'x', '%2e%2e'),
    },
  ),
  bends,
  raw: fc.option(
    fc.oneof(
      fc.string(),
      fc.jsonValue().map((json) => JSON.stringify(json)),
    ),
    { freq: 6 },
  ),
  type: fc.oneof(
    { weight: 9, arbitrary: fc.constant('application/json') },
    {
      weight: 1,
      arbitrary: fc.constantFrom(
        ...[
          'application/json; charset=utf-16',
          'text/csv',
          'application/geo+json',
          'text/plain; charset=none',
        ],
        ...['multipart/form-data; boundary=x', 'multipart/form-data', 'application/x-www-form-urlencoded'],
      ),
    },
  ),
  heads: fc.dictionary(
    fc.constantFrom('X-Taken-At', 'X-File-Name', 'If-None-Match', 'Range', 'Content-Encoding', 'Accept'),
    fc.constantFrom(
      '2026-11-24T21:00:00Z',
      '9998-12-31T23:59:59-14:00',
      'bytes=9-1',
      '*',
      'gzip',
      'a%00b',
      '%',
    ),
    { maxKeys: 1, noNullPrototype: true },
  ),
  withKey: fc.integer({ min: 0, max: 9 }).map((draw) => draw > 0),
})

test('no request of any body to any route gives 500', async () => {
  const taken = new Set<string>()
  const refused = new Set<string>()
  await fc.assert(
    fc.asyncProperty(request, async ({ route, id, bends, raw, type, heads, withKey }) => {
      const name = `${route.method} ${route.path}`
      const { body = {}, question = {} } = RIGHT[name] ?? {}
      const bent = (right: unknown) => bends.reduce((part, [where, to]) => bend(part, where, to), right)
      const words = Object.entries(bent(question) as object).map(([key, one]) => [key, String(one)])
      const answer = await service.ask(`${route.path.replace(':id', id)}?${new URLSearchParams(words)}`, {
        method: route.method,
        headers: {
          'Content-Type': type,
          ...heads,
          ...(withKey && { 'X-Camera-Key': camera.key, 'X-Worker-Key': workerKey }),
        },
        ...(route.method !== 'GET' && { body: raw ?? JSON.stringify(bent(body)) }),
      })
      expect(answer.status, answer.bytes.toString()).toBeLessThan(500)
      if (answer.status >= 400) problemShape.parse(answer.json)
      ;(answer.status < 400 ? taken : refused).add(name)
    }),
    { numRuns: 1_400 },
  )
  // A recount that a changed setting set off runs on its own: its fault would stand here too.
  expect(service.log.filter((line) => /^(GET|POST|PUT|PATCH) |^recount/.test(line))).toEqual([])
  // Some got all the way in and some did not, else this would prove little.
  expect(taken.size).toBeGreaterThan(registeredRoutes().length / 2)
  expect(refused.size).toBeGreaterThan(registeredRoutes().length / 2)
})
