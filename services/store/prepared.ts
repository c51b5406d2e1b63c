/** Statements that are asked again and again are parsed and planned once a connection. */
import { createHash } from 'node:crypto'
import type pg from 'pg'

/** A connection keeps no more than this: texts differ by how many rows they write. */
const MOST_NAMES = 500

/**
 * Prepares what is asked inside transactions: the few statements that take a photo in or write its result down, where
 * planning costs as much as running. The reads of screens are outside of them and go on being planned for the values
 * they ask for. (PostgreSQL manual, PREPARE.)
 */
export function prepareInTransactions(client: pg.ClientBase): void {
  const ask = client.query.bind(client) as (...asked: unknown[]) => unknown
  const names = new Map<string, string>()
  let inTransaction = false

  function nameOf(text: string): string | null {
    const known = names.get(text)
    if (known !== undefined || names.size >= MOST_NAMES) return known ?? null
    const name = createHash('sha256').update(text).digest('base64url').slice(0, 40)
    names.set(text, name)
    return name
  }

  const prepared = (text: unknown, values: unknown, ...rest: unknown[]): unknown => {
    if (typeof text !== 'string') return ask(text, values, ...rest)
    if (/^(begin|start transaction)\b/i.test(text)) inTransaction = true
    else if (/^(commit|rollback)\b(?! to)/i.test(text)) inTransaction = false
    else if (
      inTransaction &&
      Array.isArray(values) &&
      /^\s*(select|insert|update|delete|with)\b/i.test(text)
    ) {
      const name = nameOf(text)
      if (name !== null) return ask({ name, text, values }, ...rest)
    }
    return ask(text, values, ...rest)
  }
  client.query = prepared as typeof client.query
}
