/** `hooftally worker` with the stub eye, as a process of its own: to be killed, stopped, and listened to. */
import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { builtFile } from '../../services/paths.ts'

export interface WorkerProcess {
  readonly pid: number
  /** Everything it has printed. */
  output(): string
  /** Resolves when it has said that it joined; rejects with what it said if it ends before. */
  readonly joined: Promise<void>
  /** Its exit code, or the signal that ended it. */
  readonly ended: Promise<number | NodeJS.Signals>
  kill(): Promise<void>
  /** SIGTERM, and the exit code it ended with. */
  stop(): Promise<number | NodeJS.Signals>
}

export interface WorkerProcessOptions {
  readonly api: string
  readonly key: string
  readonly name?: string
  readonly args?: readonly string[]
  readonly environment?: Readonly<Record<string, string>>
  /** Another built file than that of the stub worker. */
  readonly entry?: string
}

export function startWorkerProcess({
  api,
  key,
  name = 'worker',
  args = [],
  environment = {},
  entry = 'tests/stub-worker.js',
}: WorkerProcessOptions): WorkerProcess {
  const child = spawn(process.execPath, [builtFile(entry), '--api', api, '--name', name, ...args], {
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...process.env, HOOFTALLY_WORKER_KEY: key, ...environment },
  })
  let output = ''
  const hear = (chunk: Buffer) => {
    output += chunk.toString()
  }
  child.stdout.on('data', hear)
  child.stderr.on('data', hear)
  const ended = once(child, 'exit').then(([code, signal]) => (code ?? signal) as number | NodeJS.Signals)
  const joined = new Promise<void>((resolve, reject) => {
    child.stdout.on('data', () => {
      if (/Joined http/.test(output)) resolve()
    })
    void ended.then((how) => reject(new Error(`the worker ended (${how}) before it joined:\n${output}`)))
  })
  // Whoever waits for it hears of a failure; a test that waits for the end does not want to.
  joined.catch(() => undefined)
  return {
    pid: child.pid!,
    output: () => output,
    joined,
    ended,
    kill: async () => void (await end(child, 'SIGKILL')),
    stop: () => end(child, 'SIGTERM'),
  }

  async function end(process: ChildProcess, signal: NodeJS.Signals) {
    if (process.exitCode === null && process.signalCode === null) process.kill(signal)
    return await ended
  }
}
