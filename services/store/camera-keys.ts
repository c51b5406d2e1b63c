/** Keys of cameras. A key is told once; the ledger keeps its hash, and its last signs to know it by. */
import { createHash, randomBytes } from 'node:crypto'

const KEY_BYTES = 18
const HINT_SIGNS = 4

export function hashOfKey(key: string): Buffer {
  return createHash('sha256').update(key).digest()
}

/** A key that nobody can guess, and what the ledger keeps of it. */
export function newKey(): {
  readonly key: string
  readonly columns: { readonly key_hash: Buffer; readonly key_hint: string }
} {
  const key = randomBytes(KEY_BYTES).toString('base64url')
  return { key, columns: { key_hash: hashOfKey(key), key_hint: key.slice(-HINT_SIGNS) } }
}
