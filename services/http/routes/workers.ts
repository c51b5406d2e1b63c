/** Machines that look at photos: their keys and list for people, and what they ask and tell themselves. */
import express, { type Request, type Response, Router } from 'express'
import type { z } from 'zod'
import { fromHalf } from '../../half.ts'
import type { House } from '../../house.ts'
import { openRecording } from '../../queue/process-still.ts'
import type { DoneLook, Outcome } from '../../queue/station-of-worker.ts'
import { Refusal } from '../../refusal.ts'
import { toStationTime } from '../../station-time.ts'
import type { Recorded } from '../../store/results.ts'
import { readSettings } from '../../store/settings.ts'
import { findWaitingLook } from '../../store/waiting.ts'
import { addWorkerKey, listWorkerKeys, revokeWorkerKey, type WorkerKey } from '../../store/worker-keys.ts'
import { joinWorker, listWorkers, recordWorkerWord, type WorkerView } from '../../store/workers.ts'
import type { Found, Instant, ModelIdentity, Zone } from '../../words.ts'
import {
  joinDoor,
  type resultDoor,
  resultsDoor,
  stillIdDoor,
  wordDoor,
  workerKeyDoor,
  workerStillQuery,
} from '../doors.ts'
import { jsonBody } from '../json-body.ts'
import { parse, parseBody, parseId } from '../parse.ts'
import type { JoinAnswer, WorkerAnswer, WorkerKeyAnswer } from '../shapes.ts'
import { SILENT_MS } from '../silent-workers.ts'
import { HASH_HEADER, TILES_HEADER } from '../worker-headers.ts'
import { workerKeyOfRequest } from '../worker-key.ts'

/** A photo full of animals: some hundred boxes with an embedding each. Of results that are more together each may come alone. */
const resultBody = express.json({ limit: '12mb' })
const LISTED_DAYS = 7
const LINK_SECONDS = 300

export function workerRoutes(house: House): Router {
  const router = Router()
  const recordLook = openRecording(house.ledger)

  router.get('/workers', async (_request, response) => {
    const { zone } = await readSettings(house.ledger)
    const now = house.now()
    const since = (now - LISTED_DAYS * 86_400_000) as Instant
    const workers = await listWorkers(house.ledger, since)
    const keys = await listWorkerKeys(house.ledger)
    response.json({
      now: toStationTime(now, zone),
      expected: house.workers !== null,
      workers: workers.map((view) => workerOf(view, { zone, now })),
      keys: keys.map((key) => workerKeyOf(key, zone)),
    })
  })

  router.post('/workers/keys', jsonBody, async (request, response) => {
    const { name } = parseBody(workerKeyDoor, request)
    const { zone } = await readSettings(house.ledger)
    const { workerKey, key } = await addWorkerKey(house.ledger, { name, now: house.now() })
    response.status(201).json({ workerKey: workerKeyOf(workerKey, zone), key })
  })

  router.post('/workers/keys/:id/revoke', async (request, response) => {
    await revokeWorkerKey(house.ledger, parseId(request.params.id), house.now())
    response.json({})
  })

  router.post('/workers/join', jsonBody, async (request, response) => {
    const keyId = await workerKeyOfRequest(house.ledger, request)
    const { name, version, models } = parseBody(joinDoor, request)
    if (house.workers === null) {
      throw new Refusal({
        kind: 'conflict',
        detail: 'This station looks at its photos itself and has no queue for workers.',
        field: 'REDIS_URL',
        remedy:
          'Give the service the address of a Redis in REDIS_URL, start it again, then start the worker.',
      })
    }
    refuseOtherModels(models, house.models)
    await joinWorker(house.ledger, { keyId, name, version, now: house.now() })
    const answer: JoinAnswer = {
      queue: { url: house.workers.redisUrl, name: house.workers.queueName },
      stills: house.files.kind === 'bucket' ? 'link' : house.workers.stillFolder === null ? 'api' : 'folder',
    }
    response.json(answer)
  })

  router.post('/workers/word', jsonBody, async (request, response) => {
    const keyId = await workerKeyOfRequest(house.ledger, request)
    await recordWorkerWord(house.ledger, { keyId, ...parseBody(wordDoor, request), at: house.now() })
    response.json({})
  })

  router.get('/worker/stills/:id', async (request, response) => {
    await workerKeyOfRequest(house.ledger, request)
    const { bytes } = parse(workerStillQuery, request.query)
    const id = parseId(request.params.id, stillIdDoor)
    const waiting = await findWaitingLook(house.ledger, id)
    // It was looked at meanwhile, or a person removed it: there is nothing to do.
    if (waiting === null) return void response.status(204).end()
    response.set({
      [HASH_HEADER]: waiting.hash,
      [TILES_HEADER]: waiting.tiles ? 'yes' : 'no',
    })
    if (bytes === 'no') return void response.end()
    await sendBytes(house, { id, hash: Buffer.from(waiting.hash, 'hex'), response })
  })

  router.post('/worker/results', resultBody, async (request: Request, response) => {
    await workerKeyOfRequest(house.ledger, request)
    const { results } = parseBody(resultsDoor, request)
    for (const { models } of results) refuseOtherModels(models, house.models)
    const looks = results.map(({ stillId, urgency, models: _, lookSeconds, ...result }) => ({
      still: { stillId, urgency },
      outcome: outcomeOf(result, house.models),
      lookSeconds,
    }))
    response.json({ recorded: await Promise.all(looks.map(recordOne)) })
  })

  async function recordOne({ still, outcome, lookSeconds }: DoneLook): Promise<Recorded> {
    const recorded = await recordLook(still, outcome)
    house.metrics.recorded(outcome, recorded)
    if (lookSeconds !== undefined) house.metrics.looked(lookSeconds)
    if (outcome.kind === 'gave up' && recorded === 'recorded') house.workers?.countGivenUp()
    return recorded
  }

  return router
}

async function sendBytes(
  house: House,
  { id, hash, response }: { readonly id: number; readonly hash: Buffer; readonly response: Response },
): Promise<void> {
  const link = await house.files.linkOf(hash, LINK_SECONDS)
  if (link !== null) return response.redirect(302, link)
  const bytes = await house.files.read(hash)
  if (bytes === null) {
    throw new Refusal({
      kind: 'not found',
      detail: `The bytes of photo ${id} are not where the photos lie, or not as they came.`,
      remedy: 'Look at the disk; put the file back from a copy if there is one.',
    })
  }
  response.type('application/octet-stream').send(bytes)
}

type SentResult = z.output<typeof resultDoor>
type ResultOf<Sent> = Sent extends unknown
  ? Omit<Sent, 'stillId' | 'urgency' | 'models' | 'lookSeconds'>
  : never

function outcomeOf(result: ResultOf<SentResult>, models: ModelIdentity): Outcome {
  if (result.kind !== 'seen') return result
  const found = result.found.map(
    (one): Found => ({ ...one, embedding: one.embedding === null ? null : embeddingOf(one.embedding) }),
  )
  const whole = result.whole && { ...result.whole, view: Buffer.from(result.whole.view, 'hex') }
  return { ...result, found, whole, models }
}

function embeddingOf(base64: string): Float32Array {
  const bytes = Buffer.from(base64, 'base64')
  if (bytes.length % 2 === 0) return fromHalf(bytes)
  throw new Refusal({
    kind: 'bad input',
    detail: 'found.embedding: half a number at its end.',
    field: 'found.embedding',
    remedy: 'Send 16-bit numbers, little-endian, in base64.',
  })
}

/** Counts of different models do not add up: whoever looks for a station must look with its models. */
function refuseOtherModels(came: ModelIdentity, own: ModelIdentity): void {
  const same =
    came.name === own.name &&
    came.version === own.version &&
    came.detectorSha256 === own.detectorSha256 &&
    came.namerSha256 === own.namerSha256
  if (same) return
  const part = came.detectorSha256 === own.detectorSha256 ? 'namer' : 'detector'
  throw new Refusal({
    kind: 'conflict',
    detail: `The worker has the models ${came.name} ${came.version} and the station ${own.name} ${own.version}; their ${part} or its version differs.`,
    field: 'models',
    remedy: 'Give the worker the same version of Hooftally and the same models folder as the station.',
  })
}

function workerKeyOf(key: WorkerKey, zone: Zone): WorkerKeyAnswer {
  return { id: key.id, name: key.name, keyHint: key.hint, madeAt: toStationTime(key.madeAt, zone) }
}

function workerOf(
  view: WorkerView,
  { zone, now }: { readonly zone: Zone; readonly now: Instant },
): WorkerAnswer {
  const { id, name, version, keyName, keyRevoked, photosDone, photosFailed, photosAnHour } = view
  return {
    id,
    name,
    version,
    keyName,
    keyRevoked,
    lastWordAt: toStationTime(view.lastWordAt, zone),
    atWork: now - view.lastWordAt < SILENT_MS && !keyRevoked,
    photosDone,
    photosFailed,
    photosAnHour,
  }
}
