/** `hooftally worker`: a machine that looks at photos for a station elsewhere. */
import { join } from 'node:path'
import { readModels } from '../../worker/eye/manifest.ts'
import { runRemoteWorker, type WorkerSurroundings } from '../../worker/remote/run.ts'
import { readWorkerConfig } from '../config/worker.ts'
import { projectFolder } from '../paths.ts'
import { serviceLog } from './log.ts'
import { sayRefusal } from './say.ts'
import { askedToStop } from './until-stopped.ts'

const LAST_GASP_MS = 500

const HELP = `hooftally worker: looks at photos for a station that runs on another machine (or on this one)

  --api URL       the station's address, as the service prints it
  --key KEY       the worker key, made in Set-up under Machines that look at photos
  --name NAME     how this worker is listed in Set-up (the machine's name)
  --threads N     how many photos the models work on at once (found at the start)
  --models DIR    the folder of the models (models/ in the project's folder); they must be the station's

HOOFTALLY_API, HOOFTALLY_WORKER_KEY and STILLS_FOLDER do the same from the environment; the last is the station's folder
of photos, where this machine has it too and the station was given it in its own STILLS_FOLDER. A key on the command line
can be read by whoever may list this machine's processes.
`

export async function runWorker(
  args: readonly string[],
  surroundings: Partial<WorkerSurroundings> = {},
): Promise<number> {
  if (args.includes('--help')) {
    process.stdout.write(HELP)
    return 0
  }
  const config = readWorkerConfig(args, process.env)
  const { identity } = await readModels(config.modelsFolder)
  // The eye reads its settings from the environment, which it gets from this process.
  if (config.threads !== undefined) process.env.HOOFTALLY_EYE_THREADS = String(config.threads)
  const asked = askedToStop()
  const reason = await runRemoteWorker(
    { ...config, models: identity, planFile: join(projectFolder, 'data', 'worker-eye-plan.json') },
    { log: serviceLog(), asked, ...surroundings },
  )
  // A queue that does not answer must not hold up the end.
  setTimeout(() => process.exit(), LAST_GASP_MS).unref()
  return reason === null ? 0 : sayRefusal(reason)
}
