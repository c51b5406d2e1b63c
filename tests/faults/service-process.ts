/** The built service as a process of its own, on a data folder of the test's: to be killed and started again. */
import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { readFile } from 'node:fs/promises'
import { builtFile } from '../../services/paths.ts'

export interface ServiceProcess {
  readonly address: string
  readonly pid: number
  /** Everything it has printed. */
  output(): string
  /** SIGKILL: no handler runs, nothing is flushed. */
  kill(): Promise<void>
  /** SIGTERM, and the exit code it ended with. */
  stop(): Promise<number | null>
}

/** Starts `hooftally COMMAND --data DIR --port 0 ...` and waits for its address. Rejects with what it said if it ends. */
export async function startServiceProcess(
  command: 'serve' | 'demo',
  { data, args = [] }: { readonly data: string; readonly args?: readonly string[] },
): Promise<ServiceProcess> {
  const child = spawn(
    process.execPath,
    [builtFile('services/main.js'), command, '--data', data, '--port', '0', ...args],
    { stdio: ['ignore', 'pipe', 'pipe'] },
  )
  let output = ''
  const hear = (chunk: Buffer) => {
    output += chunk.toString()
  }
  child.stdout.on('data', hear)
  child.stderr.on('data', hear)
  const address = await new Promise<string>((resolve, reject) => {
    const look = () => {
      const match = /http:\/\/[\w.:[\]-]+:\d+/.exec(output)
      if (match) resolve(match[0])
    }
    child.stdout.on('data', look)
    child.once('exit', () => reject(new Error(`the service ended before it was ready:\n${output}`)))
  })
  return {
    address,
    pid: child.pid!,
    output: () => output,
    kill: () => end(child, 'SIGKILL').then(() => undefined),
    stop: () => end(child, 'SIGTERM'),
  }
}

async function end(child: ChildProcess, signal: NodeJS.Signals): Promise<number | null> {
  if (child.exitCode !== null || child.signalCode !== null) return child.exitCode
  const exit = once(child, 'exit')
  child.kill(signal)
  const [code] = (await exit) as [number | null]
  return code
}

/** The processes of a kind that a process has for children, by command line (Linux only). */
export async function childrenOf(pid: number, named: string): Promise<number[]> {
  const children = (await readFile(`/proc/${pid}/task/${pid}/children`, 'utf8'))
    .trim()
    .split(' ')
    .filter(Boolean)
  const found: number[] = []
  for (const child of children.map(Number)) {
    const commandLine = await readFile(`/proc/${child}/cmdline`, 'utf8').catch(() => '')
    if (commandLine.includes(named)) found.push(child)
  }
  return found
}

/** Waits until `isSo`, asking again and again; fails after a minute. */
export async function until(what: string, isSo: () => Promise<boolean>): Promise<void> {
  for (let tries = 0; tries < 600; tries += 1) {
    if (await isSo().catch(() => false)) return
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
  throw new Error(`did not come about within a minute: ${what}`)
}
