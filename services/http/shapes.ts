/**
 * The shapes of the API's answers, version 1. Times are ISO 8601 with the station's offset
 * (`2026-11-25T06:10:00+10:30`): an instant for machines, the station's wall clock for people.
 */
import { z } from 'zod'
import { TROUBLE_KINDS } from '../store/clock-tables.ts'
import { EMPTIES_RULES, KEPT } from '../tally/keeping.ts'
import { MARKS, POINT_KINDS, SPECIES, STATE_KINDS } from '../words.ts'
import { cattleShape } from './cattle-shapes.ts'
import { trapShape } from './trap-shapes.ts'

export const speciesShape = z.enum(SPECIES)
export const roleShape = z.enum(['stock', 'feral'])
const localTime = z.iso.datetime({ offset: true })
const nightDate = z.iso.date()
const count = z.int().nonnegative()
/** Species to head; a species that was not seen is absent. */
export const tallyShape = z.partialRecord(speciesShape, z.int().positive())

export const speciesSettingShape = z.object({
  species: speciesShape,
  role: roleShape,
  countThreshold: z.number().min(0).max(1),
  flagThreshold: z.number().min(0).max(1),
})

export const stationShape = z.object({
  name: z.string(),
  zone: z.string(),
  homestead: z.object({ lat: z.number(), lon: z.number() }),
  visitGapMinutes: z.number().positive(),
  /** The longest that cattle may be away from a watched point; a shorter time is learned for each (cattle-shapes.ts). */
  cattleAwayHours: z.number().positive(),
  species: z.array(speciesSettingShape),
  /** True for the invented demo station. */
  demo: z.boolean(),
})
export const stationAnswer = z.object({ station: stationShape.nullable() })

export const pointShape = z.object({
  id: count,
  name: z.string(),
  kind: z.enum(POINT_KINDS),
  lat: z.number(),
  lon: z.number(),
  hasYard: z.boolean(),
  runOrder: z.int(),
  /** Kilometres from the homestead, great circle. */
  km: z.number(),
  /** A level reading under these marks (per cent) says low, and dry. */
  lowMarkPercent: z.number(),
  dryMarkPercent: z.number(),
})

export const cameraShape = z.object({
  id: count,
  name: z.string(),
  pointId: count,
  /** Null: the station's zone. */
  zone: z.string().nullable(),
  /** Added to what the camera's clock says gives true time. */
  clockErrorSeconds: z.number(),
  expectedSilenceHours: z.number(),
  sendsHeartbeats: z.boolean(),
  /** Null for a camera that is triggered by motion. */
  scheduleMinutes: z.number().nullable(),
  /** True when its large photos are searched in parts as well. */
  searchTiles: z.boolean(),
  /** Last four signs of the key, or null when the camera has none. */
  keyHint: z.string().nullable(),
  since: localTime.nullable(),
  lastContactAt: localTime.nullable(),
  /** False once it was taken down: nobody misses it. */
  up: z.boolean(),
  /** True when it is up and its last contact is older than the expected silence. */
  down: z.boolean(),
  photos: count,
  unreadable: count,
})
/** The key is shown once, when it is made. */
export const cameraWithKey = z.object({ camera: cameraShape, key: z.string() })

export const boxShape = z.object({
  species: speciesShape,
  score: z.number(),
  /** Pixels of the full-size photo: left, top, right, bottom. */
  box: z.tuple([z.number(), z.number(), z.number(), z.number()]),
  /** At or over the species' count threshold; the others are only worth a look. */
  counted: z.boolean(),
  /** A kind of the station's own; absent where it is none, or counted. */
  ownKind: z.string().optional(),
})

export const checkShape = z.object({
  id: count,
  at: localTime,
  who: z.string(),
  /** `marked` says nothing of the count. `withdrawn` takes the word back: the camera count stands again. */
  verdict: z.enum(['agreed', 'corrected', 'marked', 'withdrawn']),
  /** What is there by this word; null where nobody has spoken of the count. */
  counts: tallyShape.nullable(),
  marks: z.array(z.enum(MARKS)),
  /** Head of kinds of the station's own, by name; in no count. */
  others: z.record(z.string(), z.int().positive()).nullable(),
  /** Drawn by a person, in pixels of the full-size photo. */
  boxes: z.array(
    z.object({
      species: speciesShape,
      box: z.tuple([z.number(), z.number(), z.number(), z.number()]),
    }),
  ),
})

export const stillShape = z.object({
  id: count,
  pointId: count,
  pointName: z.string(),
  cameraId: count,
  cameraName: z.string(),
  takenAt: localTime,
  /** Where the time came from. */
  takenFrom: z.enum(['exif with offset', 'exif', 'sender', 'file name', 'mail date', 'file time', 'arrival']),
  /** Why the clock is in doubt, or null. A photo with a doubtful clock is kept but is in no visit. */
  clockDoubt: z.string().nullable(),
  receivedAt: localTime,
  night: nightDate,
  state: z.enum(['received', 'done', 'unreadable']),
  reason: z.string().nullable(),
  width: count.nullable(),
  height: count.nullable(),
  flagged: z.boolean(),
  unsure: z.boolean(),
  /** What stands: the checked count if there is one, else the camera count. */
  tally: tallyShape,
  /** What the models counted. */
  machineTally: tallyShape,
  /** At or over the flag threshold, best first. */
  boxes: z.array(boxShape),
  check: checkShape.nullable(),
  /** As it came, only its small picture, or only what is written down of it: `smallUrl` and `fullUrl` answer 404 then. */
  kept: z.enum(KEPT),
  /** Longest side 640 px, WebP. */
  smallUrl: z.string(),
  /** The bytes as they came: JPEG, PNG or WebP, or something unreadable. */
  fullUrl: z.string(),
})
export const stillPage = z.object({ stills: z.array(stillShape), next: z.string().nullable() })
export const stillAnswer = z.object({ still: stillShape, checks: z.array(checkShape) })

export const visitShape = z.object({
  id: count,
  pointId: count,
  pointName: z.string(),
  species: speciesShape,
  role: roleShape,
  night: nightDate,
  startedAt: localTime,
  endedAt: localTime,
  /** Largest count in any one photo: the least number that was there. */
  peak: z.int().positive(),
  photos: z.int().positive(),
  bestStillId: count,
  bestSmallUrl: z.string(),
})
export const visitPage = z.object({ visits: z.array(visitShape), next: z.string().nullable() })

/** One point's row of the water run. */
export const waterRunRow = z.object({
  point: pointShape,
  lastPhoto: z.object({ stillId: count, takenAt: localTime, smallUrl: z.string() }).nullable(),
  lastContactAt: localTime.nullable(),
  /** `down`: no camera here spoke within its expected silence. `cannot see`: those that did can't see. `new`: cameras that never spoke yet. */
  camera: z.enum(['watching', 'some down', 'down', 'cannot see', 'new', 'none']),
  cattle: cattleShape,
  /** Feral visits of the night shown. */
  feral: z.array(
    z.object({
      species: speciesShape,
      visits: z.int().positive(),
      peak: z.int().positive(),
      firstAt: localTime,
      lastAt: localTime,
      bestStillId: count,
    }),
  ),
  /** Watched part of what is known of the night, 0 to 1; null where no camera stands or nothing is known yet. */
  watched: z.number().min(0).max(1).nullable(),
  /** Flagged photos of the night nobody has looked at. */
  toCheck: count,
  water: z.object({
    /** `not seen`: no word within the last 48 hours, or none at all. Never the same as good. */
    state: z.enum(['good', 'low', 'dry', 'off', 'not seen']),
    at: localTime.nullable(),
    source: z.enum(['tap', 'reading']).nullable(),
    levelPercent: z.number().nullable(),
  }),
  trap: trapShape.nullable(),
  /** Cameras here whose photos could not be fetched several times in a row, and why. */
  notFetched: z.array(z.object({ cameraName: z.string(), reason: z.string() })),
  /** Of cameras here whose battery is flat or soon will be; `on` is the day it will be, null where it is. */
  batteries: z.array(
    z.object({ cameraName: z.string(), percent: z.number(), on: nightDate.nullable(), inDays: count }),
  ),
  /** Within the last seven days. */
  unreadable: count,
  /** More at one of its cameras than its own past explains. */
  unreadableRise: z.boolean(),
  clockInDoubt: count,
  /** What keeps cameras here from seeing, though they speak. */
  cannotSee: z.array(z.enum(TROUBLE_KINDS)),
})
export const progressShape = z.object({
  waiting: count,
  done: count,
  unreadable: count,
  /** The demo's past, while it is being made; null otherwise. */
  making: z.object({ made: count, of: count }).nullable(),
  /** Old photos being looked at again; null when none are. */
  again: z.object({ done: count, of: count, paused: z.boolean() }).nullable(),
  /** Photos being counted again under new marks; null when none are. */
  recount: z.object({ done: count, of: count, paused: z.boolean() }).nullable(),
})
/** Room on the disk of the photos: `low` gets short, `full` takes no photo any more. */
export const roomShape = z.enum(['well', 'low', 'full'])
export const waterRunAnswer = z.object({
  now: localTime,
  night: nightDate,
  nightFrom: localTime,
  nightTo: localTime,
  rows: z.array(waterRunRow),
  progress: progressShape,
  room: roomShape,
})

/** One night at one point: what the bars draw. */
export const nightShape = z.object({
  night: nightDate,
  /** Watched part of what is known of it, 0 to 1. 0: not watched, null: not known; neither says that no animals came. */
  watched: z.number().min(0).max(1).nullable(),
  species: z.array(
    z.object({
      species: speciesShape,
      role: roleShape,
      /** 0 where the only visit seen that night had begun the night before. */
      visits: count,
      /** Largest count in one photo. */
      least: z.int().positive(),
      sumOfPeaks: count,
    }),
  ),
})
export const nightsAnswer = z.object({ nights: z.array(nightShape) })

/** A word on a point: said by a tap, or read by a meter. */
export const stateShape = z.object({
  id: count,
  kind: z.enum(STATE_KINDS),
  at: localTime,
  source: z.enum(['tap', 'reading']),
  levelPercent: z.number().nullable(),
  note: z.string().nullable(),
})

export const pointAnswer = z.object({
  point: pointShape,
  row: waterRunRow,
  cameras: z.array(cameraShape),
  states: z.array(stateShape),
})
/** The last day (24 h to `until`) as a film strip: newest hour last, every hour present, an hour may be empty. */
export const dayAnswer = z.object({
  from: localTime,
  until: localTime,
  hours: z.array(
    z.object({
      startsAt: localTime,
      /** `not yet known`: after the last word of a camera that is not overdue; its next contact will tell. */
      watched: z.enum(['yes', 'no', 'not yet known']),
      stills: z.array(stillShape),
    }),
  ),
})

/** A card of Photos to check: flagged photos of one point with no gap over the visit gap. */
export const checkCard = z.object({
  /** Stable for the same photos: the first photo's id. */
  key: z.string(),
  pointId: count,
  pointName: z.string(),
  night: nightDate,
  startedAt: localTime,
  endedAt: localTime,
  /** `plain`: one of the night's other visits, which nobody needs to look at. */
  why: z.enum(['feral', 'unsure', 'plain']),
  /** Largest count in one photo, of each species on the card. */
  peaks: tallyShape,
  best: stillShape,
  /** Every photo of the card, the best included, in order of time. */
  stills: z.array(stillShape),
  checked: z.boolean(),
})
export const checkCardsAnswer = z.object({
  night: nightDate,
  /** In the order asked for: feral first, then unsure, inside each latest first; or what would teach most first. */
  cards: z.array(checkCard),
  /** Of all cards of the night. */
  waiting: count,
  checked: count,
})
export const checksRecorded = z.object({
  checks: z.array(checkShape.extend({ stillId: count })),
  stills: z.array(stillShape),
})

export const modelsShape = z.object({
  name: z.string(),
  version: z.string(),
  detectorSha256: z.string(),
  namerSha256: z.string().nullable(),
})

export const workerKeyShape = z.object({
  id: count,
  name: z.string(),
  /** Last four signs of the key. */
  keyHint: z.string(),
  madeAt: localTime,
})
/** The key is told once, when it is made. */
export const workerKeyMade = z.object({ workerKey: workerKeyShape, key: z.string() })
export const workerShape = z.object({
  id: count,
  name: z.string(),
  version: z.string(),
  keyName: z.string(),
  keyRevoked: z.boolean(),
  lastWordAt: localTime,
  /** Spoke in the last three minutes. */
  atWork: z.boolean(),
  photosDone: count,
  photosFailed: count,
  /** Measured by the machine over the last minutes. */
  photosAnHour: z.number().nonnegative(),
})
export const workersAnswer = z.object({
  now: localTime,
  /** False where the service looks at photos alone, on its own machine. */
  expected: z.boolean(),
  workers: z.array(workerShape),
  keys: z.array(workerKeyShape),
})
/** What a worker is told when it joins. */
export const joinAnswer = z.object({
  queue: z.object({ url: z.string(), name: z.string() }),
  /** Where a worker finds photos: asked for here, in the folder it may be given too, or behind a link. */
  stills: z.enum(['api', 'folder', 'link']),
})
export const resultsAnswer = z.object({ recorded: z.array(z.enum(['recorded', 'already', 'gone'])) })

const eyePlanShape = z.object({
  eyeThreads: count,
  onnxThreads: count,
  stillsInFlight: count,
  providers: z.array(z.string()).readonly(),
  /** Set by the owner; measured at this start, or kept from an earlier one; or the usual one, unmeasured. */
  from: z.enum(['set', 'measured', 'kept', 'usual']),
  tried: z
    .array(
      z.object({ eyeThreads: count, onnxThreads: count, stillsInFlight: count, stillsPerSecond: z.number() }),
    )
    .readonly(),
})

/** The owner's rule for empty photos, and what its last run let go. */
export const keepingAnswer = z.object({
  keeping: z.object({ empties: z.enum(EMPTIES_RULES), afterDays: z.int().positive() }),
  last: z.object({ at: localTime, photos: count, bytes: count }).nullable(),
})
/** What a run of a rule would free now. */
export const keepingPreview = z.object({ photos: count, bytes: count })

export const healthAnswer = z.object({
  ok: z.boolean(),
  version: z.string(),
  database: z.object({ ok: z.boolean(), detail: z.string() }),
  /** Under `reserveBytes` of free room no photo is taken. */
  disk: z.object({
    ok: z.boolean(),
    room: roomShape,
    freeBytes: count,
    reserveBytes: count,
    stillsBytes: count,
  }),
  /** Whether the place of the photos answers and takes bytes. */
  stills: z.object({ ok: z.boolean(), detail: z.string() }),
  /** `ok`: false while the queue's own server cannot be reached; photos are taken and wait. */
  queue: z.object({ waiting: count, inHand: count, givenUp: count, ok: z.boolean() }),
  /** Null where only other machines look at photos. */
  eye: z
    .object({
      state: z.enum(['starting', 'ready', 'restarting', 'stopped']),
      restarts: count,
      models: modelsShape.nullable(),
      /** How the eye shares the machine; null until it was ready. */
      plan: eyePlanShape.nullable(),
    })
    .nullable(),
  /** The models the station counts with. */
  models: modelsShape,
  /** Machines that look at photos; null where the service looks alone. `atWork`: spoke in the last three minutes. */
  workers: z.object({ atWork: count, lastWordAt: localTime.nullable() }).nullable(),
  progress: progressShape,
})

/** Old photos looked at again by newer models. */
export const rerunShape = z.object({
  id: count,
  state: z.enum(['running', 'paused', 'done', 'stopped']),
  madeAt: localTime,
  /** Nights, both included. */
  from: nightDate,
  to: nightDate,
  /** Null: all. */
  pointIds: z.array(count).nullable(),
  cameraIds: z.array(count).nullable(),
  unreadableToo: z.boolean(),
  /** Names alone are put right, from what is kept: no photo is looked at. */
  namesOnly: z.boolean(),
  /** `stationNamer`: the version of the station's own names with them, or null. */
  models: z.object({ name: z.string(), version: z.string(), stationNamer: count.nullable() }),
  /** When it began; what was done, and what failed and stands as it was. */
  total: count,
  done: count,
  failed: count,
  lastError: z.string().nullable(),
  /** At most 20. */
  failures: z.array(z.object({ stillId: count, reason: z.string() })),
})
/** Photos counted again because marks, gap, zone, or whose animals they are, changed. */
export const recountShape = z.object({
  state: z.enum(['running', 'paused', 'done']),
  total: count,
  done: count,
  lastError: z.string().nullable(),
})
export const rerunsAnswer = z.object({ reruns: z.array(rerunShape), recount: recountShape.nullable() })
export const rerunAnswer = z.object({ rerun: rerunShape })
/** What a re-run would look at. */
export const rerunCountAnswer = z.object({
  photos: count,
  /** Nights of the oldest and the newest of them. */
  from: nightDate.nullable(),
  to: nightDate.nullable(),
  /** The station's present models, and the version of its own names with them. */
  models: z.object({ name: z.string(), version: z.string(), stationNamer: count.nullable() }),
})

/** RFC 9457 problem details: `field` names what was wrong, `remedy` what to do about it. */
export const problemShape = z.object({
  type: z.string(),
  title: z.string(),
  status: z.int(),
  detail: z.string(),
  field: z.string().optional(),
  remedy: z.string(),
})

export type Station = z.infer<typeof stationShape>
export type Point = z.infer<typeof pointShape>
export type Camera = z.infer<typeof cameraShape>
export type CameraWithKey = z.infer<typeof cameraWithKey>
export type BoxOnStill = z.infer<typeof boxShape>
export type Check = z.infer<typeof checkShape>
export type Still = z.infer<typeof stillShape>
export type StillPage = z.infer<typeof stillPage>
export type StillAnswer = z.infer<typeof stillAnswer>
export type Visit = z.infer<typeof visitShape>
export type VisitPage = z.infer<typeof visitPage>
export type WaterRunRow = z.infer<typeof waterRunRow>
export type WaterRunAnswer = z.infer<typeof waterRunAnswer>
export type NightOfPoint = z.infer<typeof nightShape>
export type PointAnswer = z.infer<typeof pointAnswer>
export type DayAnswer = z.infer<typeof dayAnswer>
export type CheckCard = z.infer<typeof checkCard>
export type CheckCardsAnswer = z.infer<typeof checkCardsAnswer>
export type ChecksRecorded = z.infer<typeof checksRecorded>
export type WorkerKeyAnswer = z.infer<typeof workerKeyShape>
export type WorkerKeyMade = z.infer<typeof workerKeyMade>
export type WorkerAnswer = z.infer<typeof workerShape>
export type WorkersAnswer = z.infer<typeof workersAnswer>
export type JoinAnswer = z.infer<typeof joinAnswer>
export type KeepingAnswer = z.infer<typeof keepingAnswer>
export type KeepingPreview = z.infer<typeof keepingPreview>
export type Room = z.infer<typeof roomShape>
export type Health = z.infer<typeof healthAnswer>
export type Rerun = z.infer<typeof rerunShape>
export type Recount = z.infer<typeof recountShape>
export type RerunsAnswer = z.infer<typeof rerunsAnswer>
export type RerunCount = z.infer<typeof rerunCountAnswer>
export type Problem = z.infer<typeof problemShape>
export type Progress = z.infer<typeof progressShape>
