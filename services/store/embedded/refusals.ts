/** What goes wrong with a data folder, in words with a remedy. */
import { Refusal } from '../../refusal.ts'

export const DISK_FULL = /no space left|quota exceeded|free disk space/i

interface Failure {
  readonly code?: unknown
  readonly stderr?: unknown
}

/** The telling lines of what PostgreSQL said, without their time and process; empty if there are none. */
export function tellingLines(said: string): string {
  const telling = said.split('\n').filter((line) => /\b(error|FATAL|PANIC|HINT|DETAIL): /.test(line))
  return telling
    .slice(0, 3)
    .map((line) => line.replace(/^\S+ \S+ UTC \[\d+\] /, '').trim())
    .join('; ')
}

/** Why something failed: a program's telling lines on stderr, else the error's message. */
export function failureWords(error: unknown): string {
  const stderr = (error as Failure).stderr
  const told = typeof stderr === 'string' ? tellingLines(stderr) : ''
  if (told !== '') return told
  return error instanceof Error ? (error.message.split('\n')[0] ?? error.name) : String(error)
}

/** A Refusal that says why `folder` can't hold the data; a Refusal is passed on as it is. */
export function folderRefusal(error: unknown, folder: string): Refusal {
  if (error instanceof Refusal) return error
  const code = (error as Failure).code
  const words = failureWords(error)
  const because = (detail: string, remedy: string) =>
    new Refusal({ kind: 'unavailable', field: '--data', detail, remedy })
  if (code === 'ENOSPC' || code === 'EDQUOT' || DISK_FULL.test(words))
    return because(
      `the disk that holds ${folder} is full`,
      'Free some space (a new database takes about 60 MB), or give --data a folder on another disk.',
    )
  if (code === 'EACCES' || code === 'EPERM' || code === 'EROFS')
    return because(
      `the data folder ${folder} can't be read and written by this user (${words})`,
      'Give --data a folder that you may write to, or run Hooftally as the user who owns this one.',
    )
  if (code === 'ENOTDIR' || code === 'EEXIST')
    return because(
      `the data folder ${folder} can't be made: a file is in its way (${words})`,
      'Give --data the path of a folder.',
    )
  return because(
    `PostgreSQL can't keep its data in ${folder}: ${words}`,
    'Give --data an empty folder on a local disk, or mend what the message says.',
  )
}
