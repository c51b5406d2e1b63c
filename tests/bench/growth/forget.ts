/** Makes a stopped database cold: none of its files is left in the system's memory. */
import { execFile } from 'node:child_process'
import { promisify } from 'node:util'

const run = promisify(execFile)
/** Smaller ones are catalogues and settings: hundreds of them, and little in all. */
const FILES = ['-type', 'f', '-size', '+100k']
const DROP = ['dd', 'if={}', 'of=/dev/null', 'iflag=nocache', 'count=0', 'status=none']

/**
 * Writes out what still waits to be written, then has the system forget the folder's files (coreutils: `sync`, and `dd`
 * with `nocache`, which is posix_fadvise). Only these files, because others use the machine too. False where the system
 * has no such tools; then "cold" means no more than restarted.
 */
export async function forgetFiles(folder: string): Promise<boolean> {
  try {
    await run('sync', ['-f', folder])
    await run('find', [folder, ...FILES, '-exec', ...DROP, ';'])
    return true
  } catch {
    return false
  }
}
