/** Whom PostgreSQL runs as. It refuses to run as root, and initdb wants a user with a name in the user list. */
import { execFile } from 'node:child_process'
import { chmod, chown, stat } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { promisify } from 'node:util'
import { Refusal } from '../../refusal.ts'

const run = promisify(execFile)

export interface Account {
  readonly name: string
  readonly uid: number
  readonly gid: number
}

/**
 * The unprivileged user that PostgreSQL runs as, or null where it runs as whoever runs the service.
 * As root it is the first of these who can enter the folder: whoever owns the database that is already there (it
 * keeps its owner, whatever is installed later) or its folder; `postgres`; a system user `hooftally` that is made
 * here; whoever owns a folder on the way (root working in someone's home); `nobody` last, because other services
 * that run as `nobody` could read the data.
 * The folder itself, if it is root's own, is opened for that user; those above it are not ours to open.
 * Throws a Refusal that names the first folder on the way that is closed to them.
 */
export async function accountFor(folder: string): Promise<Account | null> {
  if (process.getuid?.() !== 0) return null
  let closedTo: Account | null = null
  for (const candidate of candidatesFor(folder)) {
    const account = await candidate()
    if (account === null) continue
    if ((await canEnter(folder, account)) || (await canBeLetIn(folder, account))) return account
    closedTo ??= account
  }
  if (closedTo !== null) throw await closedFolder(folder, closedTo)
  throw new Refusal({
    kind: 'unavailable',
    detail: 'PostgreSQL refuses to run as root, and this machine has no unprivileged user to run it as',
    remedy: 'Run Hooftally as an ordinary user, or add a system user named hooftally.',
  })
}

function candidatesFor(folder: string): (() => Promise<Account | null>)[] {
  const onTheWay = wayTo(folder).reverse()
  return [
    () => ownerOf(join(folder, 'pg')),
    () => ownerOf(folder),
    async () => (await firstNamed(['postgres', '_postgres', 'hooftally'])) ?? (await makeAccount()),
    ...onTheWay.map((step) => () => ownerOf(step)),
    () => firstNamed(['nobody']),
  ]
}

/** Every folder from the root down to `folder`. */
function wayTo(folder: string): string[] {
  const way = [folder]
  for (let at = folder; dirname(at) !== at; at = dirname(at)) way.unshift(dirname(at))
  return way
}

async function closedFolder(folder: string, account: Account): Promise<Refusal> {
  let closed = folder
  for (const step of wayTo(folder).reverse()) if (!(await canEnter(step, account))) closed = step
  return new Refusal({
    kind: 'unavailable',
    field: '--data',
    detail: `PostgreSQL runs as the user ${account.name} here (it refuses root), and that user can't enter ${closed}, which is on the way to ${folder}`,
    remedy: `Give --data a folder that ${account.name} can reach (under /srv or /var/lib, say), or run Hooftally as an ordinary user.`,
  })
}

async function canEnter(folder: string, account: Account): Promise<boolean> {
  const { uid, gid } = account
  // Really entered, as that user: mode bits alone don't know about access lists and mounts.
  return run('/bin/sh', ['-c', 'cd -- "$1"', 'sh', folder], { uid, gid, cwd: '/' }).then(
    () => true,
    () => false,
  )
}

/** A data folder that root owns and keeps to itself is opened for the account's group, to walk through only. */
async function canBeLetIn(folder: string, account: Account): Promise<boolean> {
  const { uid, mode } = await stat(folder)
  if (uid !== 0 || !(await canEnter(dirname(folder), account))) return false
  try {
    await chown(folder, uid, account.gid)
    await chmod(folder, (mode & 0o7777) | 0o010)
  } catch {
    // A disk without owners and modes: the Refusal that follows names the folder.
    return false
  }
  return canEnter(folder, account)
}

async function ownerOf(folder: string): Promise<Account | null> {
  const uid = await stat(folder).then(
    (found) => found.uid,
    () => 0,
  )
  if (uid === 0) return null
  const name = await idSays(['-un', String(uid)])
  return name === null ? null : named(name)
}

async function firstNamed(names: readonly string[]): Promise<Account | null> {
  for (const name of names) {
    const account = await named(name)
    if (account !== null) return account
  }
  return null
}

async function named(name: string): Promise<Account | null> {
  const [uid, gid] = [await idSays(['-u', name]), await idSays(['-g', name])]
  return uid === null || gid === null ? null : { name, uid: Number(uid), gid: Number(gid) }
}

async function idSays(args: readonly string[]): Promise<string | null> {
  return run('id', args).then(
    ({ stdout }) => stdout.trim(),
    () => null,
  )
}

async function makeAccount(): Promise<Account | null> {
  const ways: readonly (readonly [string, readonly string[]])[] = [
    ['useradd', ['--system', '--no-create-home', '--shell', '/usr/sbin/nologin', 'hooftally']],
    ['adduser', ['-S', '-D', '-H', 'hooftally']],
  ]
  for (const [tool, args] of ways) {
    const made = await run(tool, args).then(
      () => true,
      () => false,
    )
    if (made) return named('hooftally')
  }
  return null
}
