/** `npm start`: the service for a real station. */
import { loopbackOnly, readServeConfig } from '../config/serve.ts'
import type { Log } from '../log.ts'
import { type Running, type ServeSurroundings, startService } from '../serve.ts'
import { findSettings } from '../store/settings.ts'
import { serviceLog } from './log.ts'
import { askedToStop, untilStopped } from './until-stopped.ts'

const HELP = `hooftally serve: the service for your own station (npm start)

  --port N      the port to listen on (8470)
  --host H      the address to listen on (127.0.0.1: this machine only). With any other, everyone who reaches this
                machine can see and change everything: there are no accounts yet.
  --data DIR    where the station's data lie (data/station in the project's folder)
  --models DIR  the folder of the models and their manifest, where they are your own (docs/own-model.md)
  --drop-root DIR  a folder under which cameras' drop folders may lie; may be given more than once
                (HOOFTALLY_DROP_ROOTS, with commas between). Without one the service reads no folder of this machine.
  --camera-host H  a host, an address or a network (192.168.1.0/24) of your own that may be asked for photos; may be
                given more than once (HOOFTALLY_CAMERA_HOSTS). Without one only public addresses are asked.
  --eye         with REDIS_URL: looks at photos too, beside the workers (HOOFTALLY_EYE=1 does the same)

DATABASE_URL, HOOFTALLY_DATA, HOOFTALLY_PORT, HOOFTALLY_HOST and HOOFTALLY_MODELS do the same from the environment.
With REDIS_URL the photos are looked at by workers (hooftally worker --help), on this machine or on others;
WORKER_REDIS_URL is the address they reach that Redis by, where it is another one. STILLS_FOLDER is where the photos lie.
`

export async function runServe(
  args: readonly string[],
  surroundings: Pick<ServeSurroundings, 'eyeEntry' | 'senderPatienceMs'> = {},
): Promise<number> {
  if (args.includes('--help')) {
    process.stdout.write(HELP)
    return 0
  }
  const config = readServeConfig(args, process.env)
  const asked = askedToStop()
  const log = serviceLog()
  const running = await startService(config, { ...surroundings, log })
  try {
    await sayAddress(running, { host: config.host, log })
    return await untilStopped(running, { asked, log })
  } finally {
    await running.stop()
  }
}

/** The line everyone waits for, and what an open address risks. */
export async function sayAddress(
  { address, house }: Running,
  { host, log }: { readonly host: string; readonly log: Log },
): Promise<void> {
  if (!loopbackOnly(host)) {
    log.warn(
      `Careful: listening on ${host}. Whoever reaches this machine can see and change everything; there are no accounts yet. Use it only in a network you trust.`,
    )
  }
  const settings = await findSettings(house.ledger)
  log(
    settings === null
      ? `Open ${address} to set up your station. Ctrl-C stops it.`
      : `${settings.name} is at ${address}. Ctrl-C stops it.`,
  )
}
