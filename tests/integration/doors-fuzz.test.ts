/** Whatever is sent to whichever door, the answer is never an unforeseen fault, and a refusal says what to do. */
import fc from 'fast-check'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { problemShape } from '../../services/http/shapes.ts'
import { SPECIES, STATE_KINDS } from '../../services/words.ts'
import { registeredRoutes } from '../unit/http/routes.ts'
import {
  addCamera,
  addPoint,
  openService,
  type SetUpCamera,
  setUpStation,
  type TestService,
} from './service.ts'

let service: TestService
let camera: SetUpCamera

beforeAll(async () => {
  service = await openService()
  await setUpStation(service)
  camera = await addCamera(service, {
    name: 'Wren camera',
    pointId: await addPoint(service, { name: 'Wren Bore' }),
  })
})
afterAll(() => service?.stop())

/** Words and numbers that doors know, at and past their edges, so that some requests get far in. */
const value = fc.oneof(
  fc.constantFrom<unknown>(
    ...SPECIES,
    ...STATE_KINDS,
    ...[
      'agreed',
      'corrected',
      'withdrawn',
      'stock',
      'feral',
      'Wren Bore',
      'Wren camera',
      'Australia/Adelaide',
    ],
    ...[
      '2026-11-24T21:00:00+10:30',
      '1970-01-01T00:00:00Z',
      '9998-12-31T23:59:59-14:00',
      '0000-01-01T00:00:00Z',
    ],
    ...[
      '2026-11-24',
      '1970-01-01',
      '9998-12-31',
      '9999-12-31',
      '+10:30',
      'UTC',
      '',
      ' ',
      '\u0000',
      '\ud800',
      '__proto__',
    ],
    ...[0, 1, -1, 0.5, 40, 101, 999, 2 ** 31 - 1, 2 ** 31, 2 ** 53, 1e300, -1e300, 1e-300],
    ...[true, false, null, [], {}],
  ),
  fc.string({ maxLength: 12 }),
  fc.double(),
)
const FIELDS = [
  ...['name', 'zone', 'homestead', 'lat', 'lon', 'visitGapMinutes', 'cattleAwayHours', 'species', 'role'],
  ...['countThreshold', 'flagThreshold', 'kind', 'hasYard', 'runOrder', 'lowMarkPercent', 'dryMarkPercent'],
  ...[
    'at',
    'note',
    'levelPercent',
    'pointId',
    'clockErrorSeconds',
    'expectedSilenceHours',
    'sendsHeartbeats',
  ],
  ...[
    'scheduleMinutes',
    'since',
    'batteryPercent',
    'temperatureC',
    'signalPercent',
    'freeBytes',
    'who',
    'words',
  ],
  ...['point', 'camera', 'night', 'visit', 'state', 'doubtful', 'cursor', 'limit', 'from', 'to', 'until'],
]
const record = fc.dictionary(fc.constantFrom(...FIELDS), value, { maxKeys: 6, noNullPrototype: true })
const likely = fc.oneof(
  fc.record({ name: fc.string(), lat: fc.double({ min: -91, max: 91 }), lon: value, runOrder: value }),
  fc.record({ name: value, pointId: fc.constant(1), since: value, clockErrorSeconds: value, zone: value }),
  fc.record({ kind: fc.constantFrom(...STATE_KINDS), at: value, note: value }, { requiredKeys: ['kind'] }),
  fc.record(
    { levelPercent: fc.integer({ min: -1, max: 101 }), at: value },
    { requiredKeys: ['levelPercent'] },
  ),
  fc.record({ at: value, freeBytes: value, batteryPercent: value }, { requiredKeys: [] }),
  fc.record({
    words: fc.array(
      fc.record(
        { stillId: value, verdict: fc.constantFrom('agreed', 'corrected', 'withdrawn'), counts: record },
        { requiredKeys: ['stillId', 'verdict'] },
      ),
      { maxLength: 2 },
    ),
  }),
  fc.record({ name: value, zone: value, homestead: fc.record({ lat: value, lon: value }), species: value }),
)
const body = fc.oneof(
  fc.oneof(record, likely, fc.jsonValue()).map((json) => JSON.stringify(json)),
  fc.string(),
)
const type = fc.oneof(
  { weight: 5, arbitrary: fc.constant('application/json') },
  {
    weight: 2,
    arbitrary: fc.constantFrom(
      ...['application/json; charset=utf-16', 'text/csv', 'application/geo+json', 'text/plain; charset=none'],
      ...[
        'multipart/form-data; boundary=x',
        'multipart/form-data',
        'application/x-www-form-urlencoded',
        'image/jpeg',
      ],
    ),
  },
)
const id = fc.oneof(
  { weight: 4, arbitrary: fc.constant('1') },
  {
    weight: 1,
    arbitrary: fc.constantFrom('0', '2', '-1', '1.5', '2147483648', '1e3', '%00', '%ff', 'x', '%2e%2e'),
  },
)
const question = fc.dictionary(fc.constantFrom(...FIELDS), value, { maxKeys: 3, noNullPrototype: true })
const heads = fc.dictionary(
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
  { maxKeys: 2, noNullPrototype: true },
)

test('no request of any body to any route gives 500', async () => {
  const asking = fc.record({
    route: fc.constantFrom(...registeredRoutes()),
    id,
    question,
    body,
    type,
    heads,
    withKey: fc.boolean(),
  })
  await fc.assert(
    fc.asyncProperty(asking, async ({ route, id, question, body, type, heads, withKey }) => {
      const words = Object.entries(question).map(([key, one]) => [key, String(one)])
      const path = `${route.path.replace(':id', id)}?${new URLSearchParams(words)}`
      const answer = await service.ask(path, {
        method: route.method,
        headers: { 'Content-Type': type, ...heads, ...(withKey && { 'X-Camera-Key': camera.key }) },
        ...(route.method !== 'GET' && { body }),
      })
      expect(answer.status, answer.bytes.toString()).toBeLessThan(500)
      if (answer.status >= 400) problemShape.parse(answer.json)
    }),
    { numRuns: 400 },
  )
  // A recount that a changed setting set off runs on its own: its fault would stand here too.
  expect(service.log.filter((line) => /^(GET|POST|PUT|PATCH) |^recount/.test(line))).toEqual([])
})
