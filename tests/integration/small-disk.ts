/** A disk of a few megabytes (tmpfs), for tests that fill it. Only root may mount one. */
import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

export interface SmallDisk {
  readonly folder: string
  remove(): void
}

export function openSmallDisk(megabytes: number): SmallDisk {
  const folder = mkdtempSync(join(tmpdir(), 'hooftally-disk-'))
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${megabytes}m`, 'tmpfs', folder], { stdio: 'pipe' })
  } catch (fault) {
    rmSync(folder, { recursive: true })
    throw fault
  }
  return {
    folder,
    remove() {
      // Lazily: whoever still holds a file on it must not keep the test from ending.
      execFileSync('umount', ['--lazy', folder])
      rmSync(folder, { recursive: true, force: true })
    },
  }
}

/** Why tests on a small disk are skipped; null where one can be mounted. */
export const noSmallDisk: string | null = whyNot()

function whyNot(): string | null {
  if (process.platform !== 'linux') return 'tmpfs is mounted on Linux only'
  if (process.getuid?.() !== 0) return 'only root may mount a tmpfs'
  try {
    openSmallDisk(1).remove()
    return null
  } catch {
    return 'a tmpfs cannot be mounted here'
  }
}
