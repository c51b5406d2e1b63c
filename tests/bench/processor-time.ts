/** Processor time of processes, where Linux tells. */
import { readdir, readFile } from 'node:fs/promises'
import { join } from 'node:path'

/** Clock ticks a second in /proc: 100 on every Linux there is (proc(5), sysconf(3)). */
const TICKS_A_SECOND = 100

/** Milliseconds used so far, of user and system together; null where /proc is not there. */
export async function processorMs(folder: string): Promise<number | null> {
  const own = process.cpuUsage()
  const database = await postgresMs(folder).catch(() => null)
  return database === null ? null : (own.user + own.system) / 1000 + database
}

/** Of the postmaster of this data folder, its living children and those that have ended. */
export async function postgresMs(folder: string): Promise<number> {
  const [postmaster] = (await readFile(join(folder, 'pg', 'postmaster.pid'), 'utf8')).split('\n')
  return await withChildrenMs(Number(postmaster))
}

/** Of one process without its children. */
export async function processMs(pid: number): Promise<number> {
  return (await readTimes(String(pid)))?.ownMs ?? 0
}

/** Of a process' living children. */
export async function childrenMs(pid: number): Promise<number> {
  const all = await Promise.all((await readdir('/proc')).filter((name) => /^\d+$/.test(name)).map(readTimes))
  return all.reduce((sum, times) => sum + (times?.parent === pid ? times.ownMs : 0), 0)
}

async function withChildrenMs(pid: number): Promise<number> {
  const times = await readTimes(String(pid))
  return (times?.ownMs ?? 0) + (times?.endedChildrenMs ?? 0) + (await childrenMs(pid))
}

async function readTimes(pid: string) {
  const stat = await readFile(`/proc/${pid}/stat`, 'utf8').catch(() => null)
  if (stat === null) return null
  // Fields are counted from behind the command's name, which may hold anything: 3 is the state.
  const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ')
  const ms = (...places: number[]) =>
    (places.reduce((sum, place) => sum + Number(fields[place]), 0) * 1000) / TICKS_A_SECOND
  return { parent: Number(fields[1]), ownMs: ms(11, 12), endedChildrenMs: ms(13, 14) }
}
