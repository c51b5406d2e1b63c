/** What goes wrong with a data folder, in words with a remedy. */
import { Refusal } from '../../refusal.ts'

interface Failure {
  readonly code?: unknown
  readonly stderr?: unknown
}

/** The telling line of a failure: a program's last words on stderr, else the error's message. */
export function failureWords(error: unknown): string {
  const stderr = (error as Failure).stderr
  const said = typeof stderr === 'string' ? stderr : ''
  const telling = said.split('\n').filter((line) => /error|fatal|panic|hint|detail/i.test(line))
  if (telling.length > 0) return telling.slice(0, 3).join('; ').trim()
  return error instanceof Error ? (error.message.split('\n')[0] ?? error.name) : String(error)
}

/** A Refusal that says why `folder` can't hold the data; a Refusal is passed on as it is. */
export function folderRefusal(error: unknown, folder: string): Refusal {
  if (error instanceof Refusal) return error
  const code = (error as Failure).code
  const words = failureWords(error)
  const because = (detail: string, remedy: string) =>
    new Refusal({ kind: 'unavailable', field: '--data', detail, remedy })
  if (code === 'ENOSPC' || code === 'EDQUOT' || /no space left|quota exceeded/i.test(words))
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
