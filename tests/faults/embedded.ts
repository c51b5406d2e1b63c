/** A station in one piece: the service, its eye and its own PostgreSQL, each of which may be killed. */
import { chmod, mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { runningDatabaseUrl } from '../../services/store/embedded/running.ts'
import { freePort } from '../../services/store/embedded/start-stop.ts'
import { openLedger } from '../../services/store/open.ts'
import { openStillFolder } from '../../services/store/still-folder.ts'
import type { Household } from './drive.ts'
import { keepStubService } from './household.ts'
import { setUpStation } from './station-to-kill.ts'
import { countWaiting, killableEye, killablePostgres } from './victims.ts'

export interface EmbeddedHousehold extends Household {
  /** The data folder. */
  readonly data: string
  /** Of the service's process. */
  pid(): number
}

export async function openEmbedded(
  environment: Readonly<Record<string, string>> = {},
): Promise<EmbeddedHousehold> {
  const data = await mkdtemp(join(tmpdir(), 'hooftally-faults-'))
  // As root PostgreSQL runs as another user, who has to get in.
  await chmod(data, 0o755)
  const port = await freePort()
  const address = `http://127.0.0.1:${port}`
  const service = keepStubService({ data, port, environment })
  await service.start()
  const cameras = await setUpStation(address)
  const databaseUrl = async () => {
    const url = await runningDatabaseUrl(data)
    if (url === null) throw new Error('no PostgreSQL runs')
    return url
  }
  return {
    data,
    pid: () => service.pid()!,
    address,
    cameras,
    victims: [service, killableEye(service), ...killablePostgres({ cluster: join(data, 'pg'), databaseUrl })],
    waiting: async () => await countWaiting(await databaseUrl()),
    station: async () => ({
      ledger: await openLedger(await databaseUrl()),
      files: await openStillFolder(join(data, 'stills')),
    }),
    output: service.output,
    async stop() {
      await service.stop()
      await rm(data, { recursive: true, force: true })
    },
  }
}
