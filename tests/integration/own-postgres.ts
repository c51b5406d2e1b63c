/** Starts postgres-owner.mjs and listens to it: a service's database in a process that may be killed. */
import { type ChildProcessByStdio, spawn } from 'node:child_process'
import { EventEmitter, once } from 'node:events'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import type { Readable, Writable } from 'node:stream'
import { z } from 'zod'
import { builtFile, projectFolder } from '../../services/paths.ts'

const saidShape = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('log'), line: z.string() }),
  z.object({ kind: z.literal('ready'), url: z.string(), tookOver: z.boolean() }),
  z.object({
    kind: z.literal('refused'),
    refusal: z.string().optional(),
    message: z.string(),
    remedy: z.string().optional(),
  }),
  z.object({ kind: z.literal('interrupted') }),
  z.object({ kind: z.literal('stopped') }),
])
export type Said = z.infer<typeof saidShape>
type OfKind<K extends Said['kind']> = Extract<Said, { kind: K }>

export interface Owner {
  readonly process: ChildProcessByStdio<Writable, Readable, null>
  /** Waits for the first of these kinds; what was said earlier counts. Fails when the process ends without. */
  hear<K extends Said['kind']>(...kinds: readonly K[]): Promise<OfKind<K>>
  stop(): Promise<void>
  /** kill -9: no last words. */
  kill(): Promise<void>
}

export interface OwnerOptions {
  readonly folder: string
  readonly builtOpen?: string
  /** As on a station; left out, nothing is flushed to disk, which no test here can tell and which takes seconds. */
  readonly durable?: boolean
}

export function ownPostgres({ folder, builtOpen, durable }: OwnerOptions): Owner {
  const script = join(projectFolder, 'tests', 'integration', 'postgres-owner.mjs')
  const args = [script, builtOpen ?? builtFile('services/store/embedded/open.js'), folder]
  const child = spawn(process.execPath, durable === true ? args : [...args, 'throwaway'], {
    stdio: ['pipe', 'pipe', 'inherit'],
    // A process group of its own, as in a terminal: Ctrl-C goes to the whole group.
    detached: true,
  })
  const heard: Said[] = []
  const news = new EventEmitter()
  const lines = createInterface({ input: child.stdout })
  lines.on('line', (line) => {
    heard.push(saidShape.parse(JSON.parse(line)))
    news.emit('news')
  })
  const ended = once(lines, 'close')

  const hear = async <K extends Said['kind']>(...kinds: readonly K[]): Promise<OfKind<K>> => {
    const isWanted = (said: Said): said is OfKind<K> => kinds.some((kind) => kind === said.kind)
    for (;;) {
      const said = heard.find(isWanted)
      if (said !== undefined) return said
      const isOver = await Promise.race([ended.then(() => true), once(news, 'news').then(() => false)])
      if (isOver && !heard.some(isWanted))
        throw new Error(`ended without "${kinds.join('" or "')}": ${JSON.stringify(heard)}`)
    }
  }
  return {
    process: child,
    hear,
    stop: async () => {
      child.stdin.write('stop\n')
      await hear('stopped')
    },
    kill: async () => {
      const gone = child.exitCode === null && child.signalCode === null ? once(child, 'exit') : null
      child.kill('SIGKILL')
      await gone
    },
  }
}
