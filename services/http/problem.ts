/** Faults as `application/problem+json` (RFC 9457), each with what to do about it. */
import type { ErrorRequestHandler, Request, Response } from 'express'
import { logOfLines, type PlainLog, withoutSecrets } from '../log.ts'
import { Refusal, type RefusalKind } from '../refusal.ts'
import { isLedgerAway } from '../store/away.ts'
import type { Problem } from './shapes.ts'
import { toldPath } from './told-path.ts'

const STATUS: Readonly<Record<RefusalKind, number>> = {
  'bad input': 400,
  'not allowed': 401,
  forbidden: 403,
  'not found': 404,
  'too slow': 408,
  conflict: 409,
  'too large': 413,
  'too many': 429,
  unavailable: 503,
  'no room': 507,
}

const TITLE: Readonly<Record<RefusalKind, string>> = {
  'bad input': 'Something in the request is not right',
  'not allowed': 'Not allowed',
  forbidden: 'Not from there',
  'not found': 'Not here',
  'too slow': 'Too slow',
  conflict: 'Not as things stand',
  'too large': 'Too large',
  'too many': 'Too many for now',
  unavailable: 'Not available just now',
  'no room': 'No room for more',
}

const RETRY_AFTER_SECONDS: Readonly<Partial<Record<RefusalKind, number>>> = {
  unavailable: 10,
  // Nobody makes room within seconds.
  'no room': 600,
}

export function sendProblem(response: Response, refusal: Refusal): void {
  // RFC 9110, section 15.5.2: a 401 names what it asks for.
  if (refusal.kind === 'not allowed') response.set('WWW-Authenticate', refusal.field ?? 'X-Camera-Key')
  // RFC 9110, section 15.5.9: the connection is of no more use.
  if (refusal.kind === 'too slow') response.set('Connection', 'close')
  const retryAfter = refusal.retryAfterSeconds ?? RETRY_AFTER_SECONDS[refusal.kind]
  if (retryAfter !== undefined) response.set('Retry-After', String(retryAfter))
  write(response, {
    type: 'about:blank',
    title: TITLE[refusal.kind],
    status: STATUS[refusal.kind],
    detail: refusal.message,
    ...(refusal.field !== undefined && { field: refusal.field }),
    remedy: refusal.remedy,
  })
}

function write(response: Response, problem: Problem): void {
  // What a route had already said of the picture it meant to send does not hold for this answer.
  for (const name of ['ETag', 'Content-Disposition']) response.removeHeader(name)
  response
    .status(problem.status)
    .set('Cache-Control', 'no-store')
    .type('application/problem+json')
    .send(JSON.stringify(problem))
}

/** Every fault of a route ends here; one that nobody foresaw is logged whole and told in general words. */
export function problemHandler(take: PlainLog): ErrorRequestHandler {
  const log = logOfLines(take)
  return (fault: unknown, request, response, next) => {
    if (response.headersSent) return next(fault)
    if (fault instanceof Refusal) return sendProblem(response, fault)
    const requestFault = requestFaultOf(fault)
    if (requestFault !== null) return write(response, problemOfRequest(requestFault, request))
    log.error(
      `${request.method} ${toldPath(request.path)}: ${fault instanceof Error ? (fault.stack ?? fault.message) : String(fault)}`,
    )
    if (isLedgerAway(fault)) {
      return sendProblem(
        response,
        new Refusal({
          kind: 'unavailable',
          detail: 'The database does not answer; nothing was taken.',
          remedy: 'Send it again in a moment. If it goes on, look at Health in Set-up and at the log.',
        }),
      )
    }
    write(response, {
      type: 'about:blank',
      title: 'A fault of ours',
      status: 500,
      detail: 'The service met a fault it did not foresee. It is in the log.',
      remedy: 'Try again; if it stays, look at Health in Set-up and send the log to who keeps the service.',
    })
  }
}

interface RequestFault {
  /** 400 to 499 */
  readonly status: number
  readonly type: string
  readonly message: string
}

/** Express and its readers of bodies and files mark a fault of the request by its status. */
function requestFaultOf(fault: unknown): RequestFault | null {
  if (!(fault instanceof Error) || !('status' in fault) || typeof fault.status !== 'number') return null
  if (fault.status < 400 || fault.status > 499) return null
  return { status: fault.status, type: 'type' in fault ? String(fault.type) : '', message: fault.message }
}

function problemOfRequest({ status, type, message }: RequestFault, request: Request): Problem {
  const base = { type: 'about:blank', title: TITLE['bad input'], status }
  if (status === 404) {
    const detail = `There is nothing at ${request.method} ${withoutSecrets(request.originalUrl)}.`
    return { ...base, title: TITLE['not found'], detail, remedy: 'docs/api.md lists the addresses.' }
  }
  if (status === 413) {
    const remedy = 'Send it in smaller parts.'
    return {
      ...base,
      title: TITLE['too large'],
      detail: `The body is too large: ${message}.`,
      field: 'body',
      remedy,
    }
  }
  if (status === 415) {
    const remedy = 'Send it as UTF-8, uncompressed or as gzip.'
    return { ...base, detail: `The body cannot be read: ${message}.`, field: 'Content-Type', remedy }
  }
  if (type === 'entity.parse.failed') {
    const remedy = 'Send a JSON object with Content-Type: application/json.'
    return { ...base, detail: `The body is not JSON: ${message}.`, field: 'body', remedy }
  }
  return {
    ...base,
    detail: `The request cannot be read: ${message}.`,
    remedy: 'Correct it and send it again; docs/api.md lists the addresses and what they take.',
  }
}
