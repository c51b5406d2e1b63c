/** One whole service for a test file: its own database and folder, the real eye, a clock that the test sets. */
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import { expect } from 'vitest'
import type { z } from 'zod'
import type { ServeConfig } from '../../services/config/serve.ts'
import type { House } from '../../services/house.ts'
import { healthAnswer, type Problem, problemShape } from '../../services/http/shapes.ts'
import { type ServeSurroundings, startService } from '../../services/serve.ts'
import { parseInstant } from '../../services/station-time.ts'
import type { Instant } from '../../services/words.ts'
import { freshDatabase } from './fresh-database.ts'

const HOUR_MS = 3_600_000
/** A busy machine reads a still a second; a test file sends some tens. */
const LONGEST_WAIT_MS = 110_000
const LOOK_EVERY_MS = 40

export interface Answer {
  readonly status: number
  readonly headers: Headers
  readonly bytes: Buffer
  /** The body as JSON; undefined where it is none. */
  readonly json: unknown
}

export interface SetUpCamera {
  readonly id: number
  readonly pointId: number
  readonly name: string
  readonly key: string
}

export interface TestService {
  readonly address: string
  readonly databaseUrl: string
  readonly dataFolder: string
  readonly house: House
  /** What the service logged: an unforeseen fault stands here whole. */
  readonly log: readonly string[]
  ask(path: string, options?: RequestInit): Promise<Answer>
  /** Sends JSON. */
  send(method: string, path: string, body: unknown, headers?: Record<string, string>): Promise<Answer>
  /** Sends JSON with a camera's key. */
  tell(path: string, camera: SetUpCamera, body: unknown): Promise<Answer>
  /** Sends bytes with a camera's key. */
  post(path: string, camera: SetUpCamera, bytes: Buffer, headers?: Record<string, string>): Promise<Answer>
  setClock(iso: string): void
  passHours(hours: number): void
  /** Resolves once no photo waits any more. */
  waitUntilRead(): Promise<void>
  stop(): Promise<void>
}

export interface ServiceChange {
  readonly config?: Partial<ServeConfig>
  readonly surroundings?: Partial<ServeSurroundings>
}

/** In summer, when the zone's offset is +10:30. */
export const MORNING = '2026-11-25T06:10:00+10:30'

export async function openService(change: ServiceChange = {}): Promise<TestService> {
  const database = await freshDatabase()
  const dataFolder = await mkdtemp(join(tmpdir(), 'hooftally-doors-'))
  let now = parseInstant(MORNING)
  const log: string[] = []
  const running = await startService(
    { port: 0, host: '127.0.0.1', dataFolder, databaseUrl: database.url, ...change.config },
    { log: (line) => log.push(line), now: () => now, ...change.surroundings },
  )
  const ask = async (path: string, options: RequestInit = {}): Promise<Answer> => {
    const response = await fetch(`${running.address}${path}`, options)
    const bytes = Buffer.from(await response.arrayBuffer())
    return { status: response.status, headers: response.headers, bytes, json: jsonOf(response, bytes) }
  }
  const send: TestService['send'] = (method, path, body, headers = {}) =>
    ask(path, {
      method,
      headers: { 'Content-Type': 'application/json', ...headers },
      body: JSON.stringify(body),
    })
  return {
    address: running.address,
    databaseUrl: database.url,
    dataFolder,
    house: running.house,
    log,
    ask,
    send,
    tell: (path, camera, body) => send('POST', path, body, { 'X-Camera-Key': camera.key }),
    post: (path, camera, bytes, headers = {}) =>
      ask(path, {
        method: 'POST',
        headers: { 'X-Camera-Key': camera.key, 'Content-Type': 'application/octet-stream', ...headers },
        body: new Uint8Array(bytes),
      }),
    setClock(iso) {
      now = parseInstant(iso)
    },
    passHours(hours) {
      now = (now + hours * HOUR_MS) as Instant
    },
    async waitUntilRead() {
      const until = Date.now() + LONGEST_WAIT_MS
      while (healthAnswer.parse((await ask('/api/health')).json).progress.waiting > 0) {
        if (Date.now() > until) throw new Error(`photos still wait; the log says:\n${log.join('\n')}`)
        await wait(LOOK_EVERY_MS)
      }
    },
    async stop() {
      await running.stop()
      await database.drop()
      await rm(dataFolder, { recursive: true, force: true })
    },
  }
}

function jsonOf(response: Response, bytes: Buffer): unknown {
  const type = response.headers.get('content-type') ?? ''
  return /\bjson\b/.test(type) ? JSON.parse(bytes.toString()) : undefined
}

/** An answer's body by its shape, with nothing in it that the shape does not name. */
export function strictly<Shape extends z.ZodType>(shape: Shape, { json }: Answer): z.output<Shape> {
  const parsed = shape.parse(json)
  // Shapes strip what they do not know, so only an answer without strangers comes back as it was.
  expect(parsed).toEqual(json)
  return parsed
}

/** The answer as problem details (RFC 9457): its status, media type and members. */
export function problemOf(answer: Answer, status: number): Problem {
  expect(answer.status, answer.bytes.toString().slice(0, 400)).toBe(status)
  expect(answer.headers.get('content-type')).toMatch(/^application\/problem\+json\b/)
  const problem = strictly(problemShape, answer)
  expect(problem.status).toBe(status)
  expect(problem.remedy).not.toBe('')
  return problem
}
