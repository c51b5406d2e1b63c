/** A still's bytes as the eye was told to find them. */
import { createHash } from 'node:crypto'
import { readFile } from 'node:fs/promises'
import type { StillSource } from './messages.ts'

/** @throws Error where the file is not there, or its bytes are not those of the SHA-256 that was said. */
export async function readStill(still: StillSource): Promise<Uint8Array> {
  if ('bytes' in still) return still.bytes
  const bytes = await readFile(still.file)
  if (still.sha256 !== undefined) proveBytes(bytes, still.sha256)
  return bytes
}

/** @throws Error where they are others. */
export function proveBytes(bytes: Uint8Array, sha256: string): void {
  const found = createHash('sha256').update(bytes).digest('hex')
  if (found === sha256) return
  throw new Error(`its bytes are not the ones that came: SHA-256 ${found}, expected ${sha256}`)
}
