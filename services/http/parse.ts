/** Parsing at the door: what came in becomes what the code may trust, or a Refusal that names the field. */
import type { Request } from 'express'
import type { z } from 'zod'
import { Refusal } from '../refusal.ts'
import { rowIdDoor } from './doors.ts'

/** Parses what came in; the first thing wrong becomes a Refusal that names its field. */
export function parse<Door extends z.ZodType>(door: Door, came: unknown, where = ''): z.output<Door> {
  const result = door.safeParse(came)
  if (result.success) return result.data
  const issue = result.error.issues[0]!
  const path = issue.code === 'unrecognized_keys' ? [...issue.path, issue.keys[0]!] : issue.path
  const field = [where, ...path.map(String)].filter((part) => part !== '').join('.') || 'body'
  throw new Refusal({
    kind: 'bad input',
    detail: `${field}: ${issue.message}.`,
    field,
    remedy:
      issue.code === 'unrecognized_keys'
        ? 'Leave this field out; docs/api.md lists the fields that are known.'
        : 'Correct this field and send it again; docs/api.md says what it may hold.',
  })
}

/**
 * Parses a JSON body. A body of another media type has not been read, so it is refused: it must not look as if nothing
 * had come. `ifAbsent` stands for no body at all.
 */
export function parseBody<Door extends z.ZodType>(
  door: Door,
  request: Request,
  { ifAbsent }: { readonly ifAbsent?: unknown } = {},
): z.output<Door> {
  const body: unknown = request.body
  if (body !== undefined) return parse(door, body)
  const came =
    Number(request.get('content-length') ?? 0) > 0 || request.get('transfer-encoding') !== undefined
  if (!came) return parse(door, ifAbsent)
  throw new Refusal({
    kind: 'bad input',
    detail: `The body came as ${request.get('content-type') ?? 'nothing in particular'}, not as JSON.`,
    field: 'Content-Type',
    remedy: 'Send a JSON object with Content-Type: application/json.',
  })
}

/** A path's id; `door` where it is not that of a point or a camera. */
export function parseId(came: unknown, door: z.ZodType<number> = rowIdDoor): number {
  return parse(door, came, 'id')
}
