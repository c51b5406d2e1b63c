/** What the service counts of itself, for whoever watches it with Prometheus; docs/operations.md lists all of it. */
import { Counter, collectDefaultMetrics, Gauge, Histogram, Registry } from 'prom-client'
import type { EyeProcess } from './queue/eye-process.ts'
import type { Outcome } from './queue/station-of-worker.ts'
import type { ReceivedStill } from './store/receive.ts'
import type { Recorded } from './store/results.ts'

export interface Metrics {
  /** In which gauges that are asked for at each reading can be put. */
  readonly registry: Registry
  taken(still: Pick<ReceivedStill, 'known' | 'state'>, seconds: number): void
  recorded(outcome: Outcome, recorded: Recorded): void
  looked(seconds: number): void
  answered(
    request: { readonly method: string; readonly route: string; readonly status: number },
    seconds: number,
  ): void
}

const INTAKE_SECONDS = [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5]
const LOOK_SECONDS = [0.05, 0.1, 0.25, 0.5, 1, 2, 4, 8, 16, 32, 64]
const ANSWER_SECONDS = [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10]

/** A registry of its own: two services in one process count apart. */
export function openMetrics(): Metrics {
  const registry = new Registry()
  const registers = [registry]
  collectDefaultMetrics({ register: registry })
  const taken = new Counter({
    name: 'hooftally_intake_photos_total',
    help: 'Photos answered at intake, by what they were: new, known, unreadable.',
    labelNames: ['outcome'],
    registers,
  })
  const intakeSeconds = new Histogram({
    name: 'hooftally_intake_seconds',
    help: 'From a photo in memory to its bytes and its row safe.',
    buckets: INTAKE_SECONDS,
    registers,
  })
  const results = new Counter({
    name: 'hooftally_results_total',
    help: 'Results that came in, by what became of them: recorded, already (there was one), gone (so was the photo).',
    labelNames: ['outcome'],
    registers,
  })
  const failures = new Counter({
    name: 'hooftally_failures_total',
    help: 'Photos recorded as unreadable after a look, by kind of reason.',
    labelNames: ['reason'],
    registers,
  })
  const lookSeconds = new Histogram({
    name: 'hooftally_look_seconds',
    help: 'From asking an eye, of this process or of a worker, to its answer.',
    buckets: LOOK_SECONDS,
    registers,
  })
  const answerSeconds = new Histogram({
    name: 'hooftally_http_seconds',
    help: 'From a request to the end of its answer, by route.',
    labelNames: ['method', 'route', 'status'],
    buckets: ANSWER_SECONDS,
    registers,
  })
  // Said from the start, so that a rate over them is never missing.
  for (const outcome of ['new', 'known', 'unreadable']) taken.inc({ outcome }, 0)
  for (const outcome of ['recorded', 'already', 'gone']) results.inc({ outcome }, 0)
  for (const reason of FAILURES) failures.inc({ reason }, 0)
  return {
    registry,
    taken({ known, state }, seconds) {
      taken.inc({ outcome: known ? 'known' : state === 'unreadable' ? 'unreadable' : 'new' })
      intakeSeconds.observe(seconds)
    },
    recorded(outcome, recorded) {
      results.inc({ outcome: recorded })
      if (recorded === 'recorded' && outcome.kind !== 'seen') failures.inc({ reason: failureOf(outcome) })
    },
    looked: (seconds) => lookSeconds.observe(seconds),
    answered: (labels, seconds) => answerSeconds.observe(labels, seconds),
  }
}

export const FAILURES = ['cut short', 'too large', 'no picture', 'every try failed', 'other'] as const
export type Failure = (typeof FAILURES)[number]

/** The kind of a reason. Reasons themselves name sizes and files: too many for a label. */
export function failureOf(outcome: Exclude<Outcome, { kind: 'seen' }>): Failure {
  if (outcome.kind !== 'unreadable' || /could not be read in \d+ tries/.test(outcome.reason)) {
    return 'every try failed'
  }
  if (/cut short|truncated|ends (?:early|too soon)|premature/i.test(outcome.reason)) return 'cut short'
  if (/megapixels|too large|over the limit/i.test(outcome.reason)) return 'too large'
  if (/not a|cannot be (?:read|decoded)|empty/i.test(outcome.reason)) return 'no picture'
  return 'other'
}

/** The same eye, with each of its looks timed. */
export function timedEye(eye: EyeProcess, metrics: Pick<Metrics, 'looked'>): EyeProcess {
  return {
    ...eye,
    async look(still) {
      const began = performance.now()
      const looked = await eye.look(still)
      metrics.looked((performance.now() - began) / 1000)
      return looked
    },
  }
}

/** Gauges that are asked for at each reading; one that cannot be asked is left out of it. */
export function addGauges(
  { registry }: Pick<Metrics, 'registry'>,
  gauges: Readonly<Record<string, { readonly help: string; readonly labelName?: string; readonly ask: Ask }>>,
): void {
  for (const [name, { help, labelName, ask }] of Object.entries(gauges)) {
    new Gauge({
      name,
      help,
      registers: [registry],
      ...(labelName !== undefined && { labelNames: [labelName] }),
      async collect() {
        this.reset()
        const answer = await ask().catch(() => null)
        if (answer === null) {
          this.remove()
        } else if (typeof answer === 'number') this.set(answer)
        else
          for (const [label, value] of Object.entries(answer))
            this.set({ [labelName ?? 'kind']: label }, value)
      },
    })
  }
}

type Ask = () => Promise<number | Readonly<Record<string, number>> | null>
