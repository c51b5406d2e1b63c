/** Processor time of this process and of PostgreSQL's processes, where Linux tells. */
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

/** Of the postmaster's living children and those that have ended. */
async function postgresMs(folder: string): Promise<number> {
  const [postmaster] = (await readFile(join(folder, 'pg', 'postmaster.pid'), 'utf8')).split('\n')
  let ticks = 0
  for (const name of await readdir('/proc')) {
    if (!/^\d+$/.test(name)) continue
    const stat = await readFile(`/proc/${name}/stat`, 'utf8').catch(() => '')
    // Fields are counted from behind the command's name, which may hold anything: 3 is the state.
    const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ')
    const used = Number(fields[11]) + Number(fields[12])
    if (fields[1] === postmaster) ticks += used
    if (name === postmaster) ticks += used + Number(fields[13]) + Number(fields[14])
  }
  return (ticks * 1000) / TICKS_A_SECOND
}
