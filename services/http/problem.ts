/** Faults as `application/problem+json` (RFC 9457), each with what to do about it; and parsing at the door. */
import type { ErrorRequestHandler, Response } from 'express'
import { z } from 'zod'
import { Refusal, type RefusalKind } from '../refusal.ts'
import { isLedgerAway } from '../store/away.ts'
import type { Problem } from './shapes.ts'

const STATUS: Readonly<Record<RefusalKind, number>> = {
  'bad input': 400,
  'not allowed': 401,
  'not found': 404,
  conflict: 409,
  'too large': 413,
  unavailable: 503,
}

const TITLE: Readonly<Record<RefusalKind, string>> = {
  'bad input': 'Something in the request is not right',
  'not allowed': 'Not allowed',
  'not found': 'Not here',
  conflict: 'Not as things stand',
  'too large': 'Too large',
  unavailable: 'Not available just now',
}

const RETRY_AFTER_SECONDS = 10

export function sendProblem(response: Response, refusal: Refusal): void {
  const status = STATUS[refusal.kind]
  const problem: Problem = {
    type: 'about:blank',
    title: TITLE[refusal.kind],
    status,
    detail: refusal.message,
    ...(refusal.field !== undefined && { field: refusal.field }),
    remedy: refusal.remedy,
  }
  if (refusal.kind === 'unavailable') response.set('Retry-After', String(RETRY_AFTER_SECONDS))
  response.status(status).type('application/problem+json').send(JSON.stringify(problem))
}

/** Every fault of a route ends here; one that nobody foresaw is logged whole and told in general words. */
export function problemHandler(log: (line: string) => void): ErrorRequestHandler {
  return (fault: unknown, request, response, next) => {
    if (response.headersSent) return next(fault)
    if (fault instanceof Refusal) return sendProblem(response, fault)
    if (isBadJson(fault)) {
      return sendProblem(
        response,
        new Refusal({
          kind: 'bad input',
          detail: `The body is not JSON: ${fault.message}.`,
          field: 'body',
          remedy: 'Send a JSON object with Content-Type: application/json.',
        }),
      )
    }
    log(
      `${request.method} ${request.path}: ${fault instanceof Error ? (fault.stack ?? fault.message) : String(fault)}`,
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
    response
      .status(500)
      .type('application/problem+json')
      .send(
        JSON.stringify({
          type: 'about:blank',
          title: 'A fault of ours',
          status: 500,
          detail: 'The service met a fault it did not foresee. It is in the log.',
          remedy:
            'Try again; if it stays, look at Health in Set-up and send the log to who keeps the service.',
        } satisfies Problem),
      )
  }
}

function isBadJson(fault: unknown): fault is Error {
  return fault instanceof Error && 'type' in fault && String(fault.type).startsWith('entity.')
}

/** Parses what came in; the first thing wrong becomes a Refusal that names its field. */
export function parse<Door extends z.ZodType>(door: Door, came: unknown, where = ''): z.output<Door> {
  const result = door.safeParse(came)
  if (result.success) return result.data
  const issue = result.error.issues[0]!
  const path = issue.code === 'unrecognized_keys' ? [...issue.path, issue.keys[0]!] : issue.path
  const field = [where, ...path.map(String)].filter((part) => part !== '').join('.')
  throw new Refusal({
    kind: 'bad input',
    detail: `${field || 'The body'}: ${issue.message}.`,
    ...(field !== '' && { field }),
    remedy:
      issue.code === 'unrecognized_keys'
        ? 'Leave this field out; docs/api.md lists the fields that are known.'
        : 'Correct this field and send it again; docs/api.md says what it may hold.',
  })
}

const idDoor = z.coerce.number().int().positive()

/** A path's id. */
export function parseId(came: unknown): number {
  return parse(idDoor, came, 'id')
}
