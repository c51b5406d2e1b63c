/** A place in a list, as an opaque word a client hands back to get the next page. */
import { Refusal } from '../refusal.ts'
import type { PagePlace } from '../store/still-views.ts'

export function toCursor({ at, id }: PagePlace): string {
  return Buffer.from(`${at.getTime()}.${id}`).toString('base64url')
}

export function fromCursor(cursor: string | undefined): PagePlace | null {
  if (cursor === undefined) return null
  // Years 1653 to 11476, which PostgreSQL's timestamps hold.
  const match = /^(-?\d{1,13}|[12]\d{14}|\d{14})\.(\d{1,15})$/.exec(
    Buffer.from(cursor, 'base64url').toString(),
  )
  if (match !== null) return { at: new Date(Number(match[1])), id: Number(match[2]) }
  throw new Refusal({
    kind: 'bad input',
    detail: 'cursor: not one that this service gave.',
    field: 'cursor',
    remedy: 'Use the `next` of the page before, or leave the cursor out to start from the newest.',
  })
}

/** One page out of one row more than asked: the extra row says that there is a next page. */
export function page<Row>(
  rows: readonly Row[],
  limit: number,
  placeOf: (row: Row) => PagePlace,
): { readonly rows: readonly Row[]; readonly next: string | null } {
  const shown = rows.slice(0, limit)
  const last = shown.at(-1)
  return { rows: shown, next: rows.length > limit && last !== undefined ? toCursor(placeOf(last)) : null }
}
