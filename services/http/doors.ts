/** The shapes of what comes in: every request body and query is parsed here, once, at the door. */
import { z } from 'zod'
import { URGENCIES } from '../queue/queue.ts'
import { EMPTIES_RULES } from '../tally/keeping.ts'
import { POINT_KINDS, SPECIES, STATE_KINDS } from '../words.ts'
import { photoWordsDoor } from './check-doors.ts'
import { roleShape, speciesShape } from './shapes.ts'

const LATITUDE = { error: 'a latitude lies between -90 and 90 degrees' }
const LONGITUDE = { error: 'a longitude lies between -180 and 180 degrees' }
const latitude = z.number().min(-90, LATITUDE).max(90, LATITUDE)
const longitude = z.number().min(-180, LONGITUDE).max(180, LONGITUDE)
/** PostgreSQL's text cannot hold a NUL. */
const hasNoNul = (value: string) => !value.includes('\0')
const noNul = { error: 'holds a NUL character' }
const name = z.string().trim().min(1).max(80).refine(hasNoNul, noNul)
/** The ledger's four-byte integer: an id of a point or a camera, a place in the run. */
const MAX_INTEGER = 2_147_483_647
const zone = z.string().refine(isZone, { error: 'not a time zone name such as Australia/Adelaide' })
/** As for times in EXIF: no camera kept time before, and years have four digits, those of the day after too. */
const FIRST_YEAR = 1970
const LAST_YEAR = 9998
/** An instant with an offset or Z: `2026-11-25T06:10:00+10:30`. */
export const instantDoor = z.iso.datetime({ offset: true }).refine(
  (value) => {
    const year = new Date(value).getUTCFullYear()
    return year >= FIRST_YEAR && year <= LAST_YEAR
  },
  { error: `not a time of the years ${FIRST_YEAR} to ${LAST_YEAR}` },
)
export const nightDoor = z.iso
  .date()
  .refine((value) => Number(value.slice(0, 4)) >= FIRST_YEAR && Number(value.slice(0, 4)) <= LAST_YEAR, {
    error: `not a night of the years ${FIRST_YEAR} to ${LAST_YEAR}`,
  })

function isZone(value: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: value })
    return true
  } catch {
    return false
  }
}

/** PUT /api/station: first-run set-up and every later change. */
export const stationDoor = z.strictObject({
  name,
  zone,
  homestead: z.strictObject({ lat: latitude, lon: longitude }),
  visitGapMinutes: z.number().min(1).max(1440).default(30),
  cattleAwayHours: z
    .number()
    .min(6)
    .max(24 * 30)
    .default(72),
  species: z
    .array(
      z.strictObject({
        species: speciesShape,
        role: roleShape,
        countThreshold: z.number().min(0).max(1).optional(),
        flagThreshold: z.number().min(0).max(1).optional(),
      }),
    )
    .optional(),
})

/** POST /api/points, and each row of a points file. */
export const pointDoor = z.strictObject({
  name,
  kind: z.enum(POINT_KINDS).default('bore'),
  lat: latitude,
  lon: longitude,
  hasYard: z.boolean().default(false),
  runOrder: z.int().min(-MAX_INTEGER).max(MAX_INTEGER).optional(),
  lowMarkPercent: z.number().min(0).max(100).default(40),
  dryMarkPercent: z.number().min(0).max(100).default(5),
})
/** PATCH /api/points/:id */
export const pointChangeDoor = z
  .strictObject({
    name,
    kind: z.enum(POINT_KINDS),
    lat: latitude,
    lon: longitude,
    hasYard: z.boolean(),
    runOrder: z.int().min(-MAX_INTEGER).max(MAX_INTEGER),
    lowMarkPercent: z.number().min(0).max(100),
    dryMarkPercent: z.number().min(0).max(100),
  })
  .partial()

/** POST /api/points/:id/states: one tap. `at` defaults to now. */
export const stateDoor = z.strictObject({
  kind: z.enum(STATE_KINDS),
  at: instantDoor.optional(),
  note: z.string().max(500).refine(hasNoNul, noNul).optional(),
})

/** POST /api/levels, with a camera key of the point's camera: a level reading from telemetry. */
export const levelDoor = z.strictObject({
  levelPercent: z.number().min(0).max(100),
  at: instantDoor.optional(),
})

/** POST /api/cameras */
export const cameraDoor = z.strictObject({
  name,
  pointId: z.int().positive().max(MAX_INTEGER),
  zone: zone.nullable().default(null),
  clockErrorSeconds: z
    .number()
    .min(-400 * 86400)
    .max(400 * 86400)
    .default(0),
  expectedSilenceHours: z
    .number()
    .min(0.1)
    .max(24 * 14)
    .default(26),
  sendsHeartbeats: z.boolean().default(true),
  scheduleMinutes: z.number().min(1).max(1440).nullable().default(null),
  searchTiles: z.boolean().default(false),
  /** When it was put up; absent: not known, so no still is too old for it. */
  since: instantDoor.optional(),
})
/** PATCH /api/cameras/:id */
export const cameraChangeDoor = z
  .strictObject({
    name,
    pointId: z.int().positive().max(MAX_INTEGER),
    zone: zone.nullable(),
    clockErrorSeconds: z
      .number()
      .min(-400 * 86400)
      .max(400 * 86400),
    expectedSilenceHours: z
      .number()
      .min(0.1)
      .max(24 * 14),
    sendsHeartbeats: z.boolean(),
    scheduleMinutes: z.number().min(1).max(1440).nullable(),
    searchTiles: z.boolean(),
  })
  .partial()

const emptiesRule = z.enum(EMPTIES_RULES)
const MAX_DAYS = 36_500
const DAYS = { error: `not a whole number of days from 1 to ${MAX_DAYS}` }
/** PUT /api/keeping: what becomes of empty photos, so many days after they came in. */
export const keepingDoor = z.strictObject({
  empties: emptiesRule,
  afterDays: z.int(DAYS).min(1, DAYS).max(MAX_DAYS, DAYS),
})
/** GET /api/keeping/preview: what is left out is as the station has it. */
export const keepingPreviewQuery = z.strictObject({
  empties: emptiesRule.optional(),
  afterDays: z.coerce.number(DAYS).int(DAYS).min(1, DAYS).max(MAX_DAYS, DAYS).optional(),
})

/** POST /api/stills: the fields of a form beside its files. */
export const stillFormDoor = z.strictObject({ takenAt: instantDoor.optional() })

/** POST /api/heartbeats, with a camera key. Whatever else a camera tells is kept as it came. */
export const heartbeatDoor = z.strictObject({
  at: instantDoor.optional(),
  batteryPercent: z.number().min(0).max(100).optional(),
  temperatureC: z.number().min(-60).max(90).optional(),
  signalPercent: z.number().min(0).max(100).optional(),
  freeBytes: z.number().nonnegative().optional(),
})

/** POST /api/checks: a person's word on one or more photos (the whole card, or one photo). */
export const checksDoor = z.strictObject({
  /** Made by the sender: sent again under the same id, the words are said once. */
  batch: z.uuid().optional(),
  /** Who says it; people and keys come later. */
  who: name.default('station'),
  words: photoWordsDoor,
})

const rowId = z.coerce.number().int().positive().max(MAX_INTEGER)
const paging = {
  cursor: z.string().max(200).optional(),
  limit: z.coerce.number().int().min(1).max(200).default(50),
}
/** A point's or a camera's id in a path. */
export const rowIdDoor = rowId
/** A photo's id in a path. */
export const stillIdDoor = z.coerce.number().int().positive()

/** GET /api/stills */
export const stillsQuery = z.strictObject({
  point: rowId.optional(),
  camera: rowId.optional(),
  night: nightDoor.optional(),
  from: nightDoor.optional(),
  to: nightDoor.optional(),
  visit: z.coerce.number().int().positive().optional(),
  species: z.enum(SPECIES).optional(),
  state: z.enum(['received', 'done', 'unreadable']).optional(),
  doubtful: z.enum(['yes']).optional(),
  ...paging,
})
const ids = z.array(z.int().positive().max(MAX_INTEGER)).min(1).max(1000)
/** Ids in a query, with commas between: `3,5`. */
const idList = z
  .string()
  .max(10_000)
  .transform((text) => text.split(',').map(Number))
  .pipe(ids)
const yesOrNo = z
  .enum(['yes', 'no'])
  .default('no')
  .transform((word) => word === 'yes')
/** POST /api/reruns: which old photos are looked at again. Nights are both in; a night left out is the first, or the last. */
export const rerunDoor = z.strictObject({
  from: nightDoor.optional(),
  to: nightDoor.optional(),
  pointIds: ids.optional(),
  cameraIds: ids.optional(),
  unreadableToo: z.boolean().default(false),
  /** Only what can be named anew without a look at the photo. */
  namesOnly: z.boolean().default(false),
})
/** GET /api/reruns/count: the same, as a query. */
export const rerunCountQuery = z.strictObject({
  from: nightDoor.optional(),
  to: nightDoor.optional(),
  pointIds: idList.optional(),
  cameraIds: idList.optional(),
  unreadableToo: yesOrNo,
  namesOnly: yesOrNo,
})
/** GET /api/visits */
export const visitsQuery = z.strictObject({
  point: rowId.optional(),
  species: z.enum(SPECIES).optional(),
  from: nightDoor.optional(),
  to: nightDoor.optional(),
  ...paging,
})
/** GET /api/points/:id/nights: nights `from` to `to`, both included; at most 400. */
export const nightsQuery = z.strictObject({ from: nightDoor.optional(), to: nightDoor.optional() })
/** GET /api/points/:id/day */
export const dayQuery = z.strictObject({ until: instantDoor.optional() })
/** GET /api/water-run and GET /api/checks/cards */
export const nightQuery = z.strictObject({ night: nightDoor.optional() })
/** GET /api/checks/cards: the first `limit` cards of the night. */
export const checkCardsQuery = z.strictObject({
  night: nightDoor.optional(),
  limit: z.coerce.number().int().min(1).max(1_000).default(20),
  /** `flagged`: what needs a look; `plain`: the night's other visits. */
  which: z.enum(['flagged', 'plain']).default('flagged'),
  /** `matters`: feral, then unsure; `teaches`: first what the models are least decided on. */
  order: z.enum(['matters', 'teaches']).default('matters'),
})

export const sha256 = z
  .string()
  .regex(/^[0-9a-f]{64}$/, { error: 'not a SHA-256 in lower-case hexadecimal digits' })
const modelsDoor = z.strictObject({
  name: z.string().min(1).max(200),
  version: z.string().min(1).max(200),
  detectorSha256: sha256,
  namerSha256: sha256.nullable(),
})
const workerVersion = z.string().min(1).max(40).refine(hasNoNul, noNul)

/** POST /api/workers/keys */
export const workerKeyDoor = z.strictObject({ name })

/** POST /api/workers/join, with a worker's key. */
export const joinDoor = z.strictObject({ name, version: workerVersion, models: modelsDoor })

/** POST /api/workers/word, with a worker's key. */
export const wordDoor = z.strictObject({
  name,
  version: workerVersion,
  /** Photos since its last word. */
  done: z.int().nonnegative().max(MAX_INTEGER),
  failed: z.int().nonnegative().max(MAX_INTEGER),
  photosAnHour: z.number().nonnegative().max(1e9),
})

const SCORES = 6
const MAX_BOXES = 2_000
const MAX_RESULTS = 64
const MAX_SIDE_PX = 1_000_000
const reason = z.string().min(1).max(2_000).refine(hasNoNul, noNul)
const ofAStill = {
  stillId: z.int().positive(),
  urgency: z.enum(URGENCIES).default('today'),
  models: modelsDoor,
  /** From asking the worker's eye to its answer, for those who watch the station. */
  lookSeconds: z.number().min(0).max(86_400).optional(),
}
/** What became of one photo. */
export const resultDoor = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('seen'),
    ...ofAStill,
    width: z.int().positive().max(MAX_SIDE_PX),
    height: z.int().positive().max(MAX_SIDE_PX),
    /** Absent from a worker that does not measure it. */
    colourfulness: z.number().min(0).max(1_000).optional(),
    sharpness: z.number().min(0).max(1e7).optional(),
    /** Absent from a worker that does not measure it; `view`: 256 bits in hexadecimal digits. */
    whole: z
      .strictObject({
        contrast: z.number().min(0).max(1),
        detail: z.number().min(0).max(1e7),
        view: z.string().regex(/^[0-9a-f]{64}$/),
      })
      .optional(),
    found: z
      .array(
        z.strictObject({
          species: speciesShape,
          score: z.number().min(0).max(1),
          box: z.tuple([z.number(), z.number(), z.number(), z.number()]),
          detector: z.array(z.number()).length(SCORES),
          namer: z.array(z.number()).length(SCORES).nullable(),
          /** 16-bit numbers, little-endian, in base64. */
          embedding: z.base64().max(100_000).nullable(),
        }),
      )
      .max(MAX_BOXES),
  }),
  z.strictObject({ kind: z.literal('unreadable'), ...ofAStill, reason }),
  z.strictObject({ kind: z.literal('gave up'), ...ofAStill, tries: z.int().positive(), reason }),
])
/** POST /api/worker/results, with a worker's key: of some photos. */
export const resultsDoor = z.strictObject({ results: z.array(resultDoor).min(1).max(MAX_RESULTS) })
/** GET /api/worker/stills/:id */
export const workerStillQuery = z.strictObject({
  /** `no`: only its hash is wanted, the bytes are at hand in a folder. */
  bytes: z.enum(['yes', 'no']).default('yes'),
})
