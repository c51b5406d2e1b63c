/** Keys of cameras. A key is told once; the ledger keeps its hash, and its last signs to know it by. */
import { createHash, randomInt } from 'node:crypto'

/** 25 of 62 signs are over 144 bits. None of them is a dash: a key is also written on a command line. */
const KEY_SIGNS = 25
const SIGNS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789'
const HINT_SIGNS = 4

export function hashOfKey(key: string): Buffer {
  return createHash('sha256').update(key).digest()
}

/** A key that nobody can guess, and what the ledger keeps of it. */
export function newKey(): {
  readonly key: string
  readonly columns: { readonly key_hash: Buffer; readonly key_hint: string }
} {
  const key = Array.from({ length: KEY_SIGNS }, () => SIGNS[randomInt(SIGNS.length)]).join('')
  return { key, columns: { key_hash: hashOfKey(key), key_hint: key.slice(-HINT_SIGNS) } }
}
