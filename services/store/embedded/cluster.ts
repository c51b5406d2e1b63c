/** The cluster: PostgreSQL's own data folder, made once, whole or not at all. */
import { execFile } from 'node:child_process'
import { randomBytes } from 'node:crypto'
import { chmod, chown, mkdir, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { Refusal } from '../../refusal.ts'
import type { Account } from './account.ts'
import { isAlive } from './postmaster.ts'
import { type Programs, plainEnvironment, runAs } from './programs.ts'
import { failureWords, folderRefusal } from './refusals.ts'

const run = promisify(execFile)
const HALF_MADE = /^pg\.new-(\d+)-/
/** Inside the cluster's folder, so that a cluster and its password can't be parted. */
export const PASSWORD_FILE = 'hooftally-password'
export const DATABASE_USER = 'hooftally'

/** Where a cluster lives and what it takes to run it. */
export interface Site {
  readonly folder: string
  /** PostgreSQL's data directory: `pg` inside the folder. */
  readonly cluster: string
  readonly password: string
  readonly account: Account | null
  readonly programs: Programs
  /** False only for clusters that may be lost with the machine's power: those of tests. */
  readonly durable: boolean
}

export type SiteWithoutCluster = Omit<Site, 'cluster' | 'password'>

/** Finds the folder's cluster, or makes one. */
export async function ensureCluster(site: SiteWithoutCluster, log: (line: string) => void): Promise<Site> {
  const cluster = join(site.folder, 'pg')
  if (!(await isThere(cluster))) {
    log('Making the database: the first start takes a few seconds longer.')
    await makeCluster(site, cluster)
  }
  try {
    await refuseOtherVersion(cluster, site.programs)
    const password = await readFile(join(cluster, PASSWORD_FILE), 'utf8')
    return { ...site, cluster, password }
  } catch (error) {
    throw folderRefusal(error, cluster)
  }
}

/**
 * Removes what starts that are gone left half made. Nothing waits on it: an initdb that outlived its service may still
 * be writing there, and then a later start removes it.
 */
export async function removeHalfMade(folder: string): Promise<void> {
  for (const name of await readdir(folder)) {
    const maker = HALF_MADE.exec(name)?.[1]
    if (maker === undefined || isAlive(Number(maker))) continue
    await rm(join(folder, name), { recursive: true, force: true }).catch(() => undefined)
  }
}

async function makeCluster(site: SiteWithoutCluster, cluster: string): Promise<void> {
  // Made aside and renamed: a folder named `pg` is always complete. The name is this start's own, so that two
  // starts at once don't write into each other's; the second rename fails on a folder that isn't empty.
  const fresh = join(site.folder, `pg.new-${process.pid}-${randomBytes(4).toString('hex')}`)
  const password = randomBytes(24).toString('base64url')
  try {
    await removeHalfMade(site.folder)
    await mkdir(fresh, { mode: 0o700 })
    const passwordFile = `${fresh}-password`
    await writeFile(passwordFile, password, { mode: 0o600 })
    await give(site.account, fresh, passwordFile)
    await runInitdb(site, { fresh, passwordFile })
    await rename(passwordFile, join(fresh, PASSWORD_FILE))
    await rename(fresh, cluster)
  } catch (error) {
    const lostTheRace = await isThere(cluster)
    await rm(fresh, { recursive: true, force: true })
    await rm(`${fresh}-password`, { force: true })
    if (!lostTheRace) throw folderRefusal(error, site.folder)
  }
}

async function runInitdb(
  site: SiteWithoutCluster,
  { fresh, passwordFile }: { fresh: string; passwordFile: string },
): Promise<void> {
  const args = [
    `--pgdata=${fresh}`,
    // The C locale: text sorts the same on every machine, and no system update can break an index.
    '--encoding=UTF8',
    '--locale=C',
    `--username=${DATABASE_USER}`,
    '--auth=scram-sha-256',
    `--pwfile=${passwordFile}`,
    ...(site.durable ? [] : ['--no-sync']),
  ]
  const options = { ...runAs(site.account), env: plainEnvironment(), cwd: site.folder }
  await run(site.programs.initdb, args, options)
}

async function give(account: Account | null, ...paths: readonly string[]): Promise<void> {
  if (account === null) return
  for (const path of paths) {
    try {
      await chown(path, account.uid, account.gid)
    } catch (error) {
      throw new Refusal({
        kind: 'unavailable',
        field: '--data',
        detail: `${path} can't be given to the user ${account.name}, whom PostgreSQL runs as (${failureWords(error)})`,
        remedy: 'Give --data a folder on a local disk, or run Hooftally as an ordinary user.',
      })
    }
  }
}

async function refuseOtherVersion(cluster: string, programs: Programs): Promise<void> {
  const version = Number(await readFile(join(cluster, 'PG_VERSION'), 'utf8'))
  if (version === programs.majorVersion) return
  throw new Refusal({
    kind: 'conflict',
    field: '--data',
    detail: `the data folder was made by PostgreSQL ${version}, and this Hooftally brings PostgreSQL ${programs.majorVersion}`,
    remedy: 'Go back to the Hooftally that made it, or give --data another folder.',
  })
}

/** Makes the folder if it is missing; folders made here are open to be walked through, whatever the umask. */
export async function ensureFolder(folder: string): Promise<void> {
  try {
    const first = await mkdir(folder, { recursive: true })
    if (first === undefined || process.getuid?.() !== 0) return
    for (let at = folder; at.length >= first.length; at = join(at, '..')) await chmod(at, 0o755)
  } catch (error) {
    throw folderRefusal(error, folder)
  }
}

async function isThere(path: string): Promise<boolean> {
  return stat(path).then(
    () => true,
    () => false,
  )
}
