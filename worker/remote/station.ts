/** The station as a worker on another machine reaches it: by its API and a worker's key. */
import { access } from 'node:fs/promises'
import { join } from 'node:path'
import { z } from 'zod'
import { type JoinAnswer, joinAnswer, problemShape, resultsAnswer } from '../../services/http/shapes.ts'
import { HASH_HEADER, TILES_HEADER, WORKER_KEY_HEADER } from '../../services/http/worker-headers.ts'
import { NotTheStillsFault } from '../../services/queue/queue.ts'
import type { StationOfWorker } from '../../services/queue/station-of-worker.ts'
import { Refusal } from '../../services/refusal.ts'
import { placeOf } from '../../services/store/still-files.ts'
import type { ModelIdentity } from '../../services/words.ts'
import type { StillFile } from '../messages.ts'
import { proveBytes } from '../read-still.ts'
import { sentResult } from './sent-result.ts'

export interface RemoteStation extends StationOfWorker {
  /** @throws Refusal for a wrong key or other models; NotTheStillsFault while the station is away. */
  join(): Promise<JoinAnswer>
  word(word: { readonly done: number; readonly failed: number; readonly photosAnHour: number }): Promise<void>
}

export interface RemoteStationOptions {
  /** The address the service printed, `http://10.0.0.5:8470`. */
  readonly api: string
  readonly key: string
  readonly name: string
  readonly version: string
  readonly models: ModelIdentity
  /** The station's folder of photos, where this machine has it too. */
  readonly stillFolder: string | null
}

const ANSWER_MS = 60_000
/** The station, or what stands before it, is not there just now (RFC 9110, section 15). */
const AWAY = [408, 429, 502, 503, 504]

export function remoteStation(options: RemoteStationOptions): RemoteStation {
  const { api, key, name, version, models, stillFolder } = options
  const address = (path: string) => new URL(`api/${path}`, api.endsWith('/') ? api : `${api}/`)

  async function ask(url: URL, init: RequestInit = {}): Promise<Response> {
    let response: Response
    try {
      response = await fetch(url, {
        ...init,
        // Followed by hand: the key must not go along to another machine.
        redirect: 'manual',
        signal: AbortSignal.timeout(ANSWER_MS),
      })
    } catch (fault) {
      throw new NotTheStillsFault(`${url.origin} does not answer (${causeOf(fault)})`, { alone: false })
    }
    if (response.status < 400) return response
    const detail = await problemOf(response)
    if (AWAY.includes(response.status)) {
      throw new NotTheStillsFault(`${url.origin} is not available just now (${response.status})`, {
        alone: false,
      })
    }
    if (detail !== null && ENDS_WORKER.includes(response.status)) throw detail
    throw new Error(`${url.origin} answered ${response.status}: ${detail?.message ?? 'without a reason'}`)
  }

  const askStation = (path: string, init: RequestInit = {}) =>
    ask(address(path), { ...init, headers: { ...init.headers, [WORKER_KEY_HEADER]: key } })

  async function tell<Shape extends z.ZodType>(
    path: string,
    body: unknown,
    shape: Shape,
  ): Promise<z.output<Shape>> {
    const response = await askStation(path, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(body),
    })
    return shape.parse(await whole(response, (from) => from.json()))
  }

  return {
    join: () => tell('workers/join', { name, version, models }, joinAnswer),
    async word(word) {
      await tell('workers/word', { name, version, ...word }, z.object({}))
    },
    async take({ stillId, look }) {
      // Where it is not there the photo may have been removed, or let go: the station knows.
      const offered = stillFolder !== null && look && (await ifThere(stillFile(stillFolder, look.hash)))
      if (offered) return { ...offered, tiles: look.tiles }
      const response = await askStation(`worker/stills/${stillId}${stillFolder === null ? '' : '?bytes=no'}`)
      if (response.status === 204) return null
      const hash = response.headers.get(HASH_HEADER) ?? ''
      const tiles = response.headers.get(TILES_HEADER) === 'yes'
      if (stillFolder !== null) return { ...stillFile(stillFolder, hash), tiles }
      const bytes = await bytesOf(response)
      proveBytes(bytes, hash)
      return { bytes, tiles }
    },
    async record(looks) {
      const results = looks.map((look) => sentResult(look, models))
      const { recorded } = await tell('worker/results', { results }, resultsAnswer)
      if (recorded.length === looks.length) return recorded
      throw new Error(`the station answered for ${recorded.length} of ${looks.length} results`)
    },
  }

  async function bytesOf(response: Response): Promise<Uint8Array> {
    const link = response.headers.get('location')
    const from = link === null ? response : await ask(new URL(link, api))
    return new Uint8Array(await whole(from, (body) => body.arrayBuffer()))
  }
}

/** Refused for who asks or for its models: nothing that comes later will do better. */
const ENDS_WORKER = [401, 403, 409]

/** The eye reads it and proves it: its bytes need not go through this process. */
function stillFile(folder: string, hash: string): Required<StillFile> {
  return { file: join(folder, placeOf('whole', Buffer.from(hash, 'hex'))), sha256: hash }
}

async function ifThere(still: Required<StillFile>): Promise<Required<StillFile> | null> {
  return await access(still.file).then(
    () => still,
    () => null,
  )
}

/** A body can break off, too. */
async function whole<T>(response: Response, read: (from: Response) => Promise<T>): Promise<T> {
  try {
    return await read(response)
  } catch (fault) {
    throw new NotTheStillsFault(`an answer broke off (${causeOf(fault)})`, { alone: false })
  }
}

async function problemOf(response: Response): Promise<Refusal | null> {
  const parsed = problemShape.safeParse(await response.json().catch(() => null))
  if (!parsed.success) return null
  const { status, detail, field, remedy } = parsed.data
  return new Refusal({
    kind: status === 401 ? 'not allowed' : status === 403 ? 'forbidden' : 'conflict',
    detail,
    remedy,
    ...(field !== undefined && { field }),
  })
}

function causeOf(fault: unknown): string {
  if (!(fault instanceof Error)) return String(fault)
  return fault.cause instanceof Error && fault.cause.message !== '' ? fault.cause.message : fault.message
}
