/** Talking to the service: one way to ask, one way to tell, and one kind of failure with words for a person. */
import type { Problem } from '../../services/http/shapes.ts'
import { failureWords } from '../text/failures.ts'

/** A path whose answer has the shape `T`; `answer` is never set, it only carries the type. */
export interface Question<T> {
  readonly path: string
  readonly answer?: T
}

export interface Failure {
  readonly what: string
  readonly remedy: string
  /** The input's field, where the service named one. */
  readonly field: string | null
  /** HTTP status, or null when no answer came at all. */
  readonly status: number | null
}

/** Thrown by `ask` and `tell`; its failure says what was wrong and what to do. */
export class Failed extends Error {
  readonly failure: Failure
  constructor(failure: Failure) {
    super(failure.what)
    this.name = 'Failed'
    this.failure = failure
  }
}

/** What is wrong at a field, where no service needs to be asked. */
export function failed(field: string, what: string): Failed {
  return new Failed({ what, remedy: '', field, status: null })
}

/** Whatever was thrown, as words for a person. */
export function failureOf(thrown: unknown): Failure {
  if (thrown instanceof Failed) return thrown.failure
  const detail = thrown instanceof Error ? thrown.message : String(thrown)
  return { ...failureWords.odd, what: `${failureWords.odd.what} (${detail})`, field: null, status: null }
}

async function send(path: string, init: RequestInit): Promise<Response> {
  let response: Response
  try {
    response = await fetch(path, init)
  } catch (thrown) {
    if (thrown instanceof DOMException && thrown.name === 'AbortError') throw thrown
    throw new Failed({ ...failureWords.noAnswer, field: null, status: null })
  }
  if (!response.ok) throw new Failed(await problemOf(response))
  return response
}

async function problemOf(response: Response): Promise<Failure> {
  const status = response.status
  if (response.headers.get('content-type')?.startsWith('application/problem+json')) {
    const problem = (await response.json()) as Problem
    return { what: problem.detail, remedy: problem.remedy, field: problem.field ?? null, status }
  }
  return { ...failureWords.status(status), field: null, status }
}

/** Asks a question. @throws {Failed} when no answer or a refusal came; an AbortError when given up. */
export async function ask<T>(question: Question<T>, signal?: AbortSignal): Promise<T> {
  const response = await send(question.path, signal ? { signal } : {})
  return (await response.json()) as T
}

export type Method = 'POST' | 'PUT' | 'PATCH' | 'DELETE'

/** Tells the service something, as JSON. @throws {Failed} with the field and the remedy. */
export async function tell<T>(method: Method, path: string, body: unknown): Promise<T> {
  const response = await send(path, {
    method,
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  })
  return (await response.json()) as T
}

/** Sends a file as it is. @throws {Failed} with the line and the remedy. */
export async function tellFile<T>(path: string, type: string, text: string): Promise<T> {
  const response = await send(path, { method: 'POST', headers: { 'content-type': type }, body: text })
  return (await response.json()) as T
}

/** Sends bytes as they are, with what is to be said of them. @throws {Failed} */
export async function tellBytes<T>(
  path: string,
  bytes: ArrayBuffer,
  headers: Readonly<Record<string, string>>,
): Promise<T> {
  const type = { 'content-type': 'application/octet-stream' }
  const response = await send(path, { method: 'POST', headers: { ...type, ...headers }, body: bytes })
  return (await response.json()) as T
}
