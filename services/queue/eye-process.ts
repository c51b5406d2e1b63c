/** Keeps the eye alive in a process of its own: a crash of a native library ends that process and is mended here. */
import { type ChildProcess, fork } from 'node:child_process'
import type { ChosenPlan } from '../../worker/eye/open.ts'
import { planWords } from '../../worker/eye/plan.ts'
import type { FromEye, StillSource, ToEye } from '../../worker/messages.ts'
import { builtFile } from '../paths.ts'
import type { Looked, ModelIdentity } from '../words.ts'
import { NotTheStillsFault } from './queue.ts'

export type EyeState = 'starting' | 'ready' | 'restarting' | 'stopped'

export interface EyeProcess {
  /**
   * Looks at one still. Rejects with NotTheStillsFault when the eye ended while it held other stills too, and
   * with a plain error when this still was the only one in hand.
   */
  look(still: StillSource): Promise<Looked>
  state(): EyeState
  restarts(): number
  models(): ModelIdentity | null
  /** How the eye shares the machine; null until it was ready once. */
  plan(): ChosenPlan | null
  /** How many stills it works on at once: more only wait, fewer leave cores idle. */
  atOnce(): number
  stop(): Promise<void>
}

export interface EyeProcessOptions {
  readonly modelsFolder: string
  readonly log: (line: string) => void
  /** Where the eye keeps the plan it measured; without it each start measures. */
  readonly planFile?: string
  /** A still that takes longer has hung the eye. */
  readonly longestLookMs?: number
  /** Another built file than the eye's own, for tests and benches. */
  readonly entry?: string
}

const LONGEST_LOOK_MS = 120_000
/** Beside those it works on it holds the next ones; more would only come nearer to LONGEST_LOOK_MS, and end with it. */
const NEXT_IN_EYE = 2
/** Until the eye has said how many it takes. */
const AT_ONCE_BEFORE_READY = 2
const FIRST_RESTART_MS = 200
const LONGEST_RESTART_MS = 30_000
const STOP_GRACE_MS = 2_000

interface Pending {
  readonly still: StillSource
  readonly resolve: (looked: Looked) => void
  readonly reject: (fault: Error) => void
  timer: NodeJS.Timeout | null
}

export function startEyeProcess(options: EyeProcessOptions): EyeProcess {
  const longestLookMs = options.longestLookMs ?? LONGEST_LOOK_MS
  let state: EyeState = 'starting'
  let child: ChildProcess | null = null
  let models: ModelIdentity | null = null
  let plan: ChosenPlan | null = null
  let restarts = 0
  let failuresInRow = 0
  let nextId = 1
  let restartTimer: NodeJS.Timeout | null = null
  /** With a timer: sent to the eye. The others wait for it to be ready and to have room. */
  const pending = new Map<number, Pending>()

  const atOnce = () => plan?.stillsInFlight ?? AT_ONCE_BEFORE_READY

  function start(): void {
    child = fork(
      options.entry ?? builtFile('worker/main.js'),
      [options.modelsFolder, ...(options.planFile === undefined ? [] : [options.planFile])],
      {
        serialization: 'advanced',
        stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
      },
    )
    child.on('message', hear)
    child.on('error', (fault) => options.log(`the eye: ${fault.message}`))
    child.once('exit', (code, signal) => ended(signal ?? `code ${code}`))
  }

  function hear(message: FromEye): void {
    if (message.type === 'ready') {
      state = 'ready'
      models = message.models
      plan = message.plan
      options.log(planLine(message.plan))
      failuresInRow = 0
      sendNext()
    } else if (message.type === 'failed') {
      options.log(`the eye could not start: ${message.detail} ${message.remedy}`)
    } else if (message.type === 'looked') {
      take(message.id)?.resolve(message.looked)
    } else {
      take(message.id)?.reject(new Error(message.message))
    }
  }

  function take(id: number): Pending | undefined {
    const job = pending.get(id)
    pending.delete(id)
    if (job?.timer) clearTimeout(job.timer)
    sendNext()
    return job
  }

  function sendNext(): void {
    if (state !== 'ready') return
    let room = atOnce() + NEXT_IN_EYE
    for (const [id, job] of pending) {
      if (room <= 0) return
      if (job.timer === null) send(id, job)
      room -= 1
    }
  }

  function send(id: number, job: Pending): void {
    const message: ToEye = { type: 'look', id, still: job.still }
    child?.send(message)
    job.timer = setTimeout(() => {
      options.log(`the eye did not answer for ${longestLookMs / 1000} s: starting it again`)
      child?.kill('SIGKILL')
    }, longestLookMs)
  }

  function ended(how: string): void {
    child = null
    if (state === 'stopped') return
    state = 'restarting'
    const held = [...pending.entries()].filter(([, job]) => job.timer !== null)
    for (const [id] of held) {
      const job = take(id)!
      const words = `the eye ended (${how}) while reading`
      job.reject(
        held.length === 1
          ? new Error(words)
          : new NotTheStillsFault(`${words} several photos`, { alone: true }),
      )
    }
    restarts += 1
    const waitMs = Math.min(LONGEST_RESTART_MS, FIRST_RESTART_MS * 2 ** failuresInRow)
    failuresInRow = Math.min(failuresInRow + 1, 10)
    options.log(`the eye ended (${how}); starting it again in ${waitMs} ms`)
    restartTimer = setTimeout(start, waitMs)
  }

  start()
  return {
    look(still) {
      if (state === 'stopped')
        return Promise.reject(new NotTheStillsFault('the eye is stopped', { alone: false }))
      return new Promise((resolve, reject) => {
        const id = nextId++
        pending.set(id, { still, resolve, reject, timer: null })
        sendNext()
      })
    },
    state: () => state,
    restarts: () => restarts,
    models: () => models,
    plan: () => plan,
    atOnce,
    async stop() {
      state = 'stopped'
      if (restartTimer) clearTimeout(restartTimer)
      for (const [id] of pending)
        take(id)?.reject(new NotTheStillsFault('the eye is stopped', { alone: false }))
      const stopping = child
      if (stopping === null) return
      const gone = new Promise<void>((resolve) => stopping.once('exit', () => resolve()))
      stopping.kill('SIGTERM')
      const grace = setTimeout(() => stopping.kill('SIGKILL'), STOP_GRACE_MS)
      await gone
      clearTimeout(grace)
    },
  }
}

function planLine(plan: ChosenPlan): string {
  const tried = plan.tried.map((one) => `${planWords(one)}: ${one.stillsPerSecond.toFixed(1)} a second`)
  const how = plan.from === 'measured' ? `measured: ${tried.join('; ')}` : plan.from
  return `the eye works with ${planWords(plan)}, on ${plan.providers.join(', ')} (${how})`
}
