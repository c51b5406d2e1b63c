/** Real processes of a station that are killed and started again while it works. */
import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { builtFile } from '../../services/paths.ts'

/** What may be killed. `kill` returns once it is dead; `start` once it serves again. */
export interface Victim {
  readonly name: string
  kill(): Promise<void>
  start(): Promise<void>
}

export interface ProcessPlan {
  readonly name: string
  /** A built file, run by this Node.js. */
  readonly file: string
  readonly args: readonly string[]
  readonly environment: Readonly<Record<string, string>>
  /** Printed once it serves. */
  readonly ready: RegExp
}

export interface KeptProcess extends Victim {
  pid(): number | undefined
  /** All it has printed, over all its lives. */
  output(): string
  /** SIGTERM, and the exit code; null when it was not running. */
  stop(): Promise<number | null>
}

/** A program of ours as a process of its own; not started yet. */
export function keepProcess({ name, file, args, environment, ready }: ProcessPlan): KeptProcess {
  let child: ChildProcess | null = null
  let output = ''

  async function end(signal: NodeJS.Signals): Promise<number | null> {
    if (child === null || child.exitCode !== null || child.signalCode !== null) return null
    const exit = once(child, 'exit')
    child.kill(signal)
    const [code] = (await exit) as [number | null]
    return code
  }

  return {
    name,
    pid: () => child?.pid,
    output: () => output,
    kill: async () => {
      await end('SIGKILL')
    },
    stop: () => end('SIGTERM'),
    async start() {
      const own = spawn(process.execPath, [file, ...args], {
        stdio: ['ignore', 'pipe', 'pipe'],
        env: { ...process.env, ...environment },
      })
      child = own
      const from = output.length
      await new Promise<void>((resolve, reject) => {
        const hear = (chunk: Buffer) => {
          output += chunk.toString()
          if (ready.test(output.slice(from))) resolve()
        }
        own.stdout.on('data', hear)
        own.stderr.on('data', hear)
        own.once('exit', (code, signal) =>
          // Killed by the one who started it, before it was ready: that is what this is for.
          signal === 'SIGKILL'
            ? resolve()
            : reject(new Error(`${name} ended (${code}):\n${output.slice(from)}`)),
        )
      })
    },
  }
}

/** The service with the stub eye; not started yet. */
export function keepStubService({
  data,
  port,
  environment = {},
}: {
  readonly data: string
  readonly port: number
  readonly environment?: Readonly<Record<string, string>>
}): KeptProcess {
  return keepProcess({
    name: 'service',
    file: builtFile('tests/stub-serve.js'),
    args: ['--data', data, '--port', String(port)],
    environment,
    ready: /http:/,
  })
}
