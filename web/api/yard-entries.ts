/** What is entered at a yard, as the service takes it: head taken, words on a trap, jobs. */
import type { z } from 'zod'
import type { jobDoor, jobWordDoor } from '../../services/http/job-doors.ts'
import type { outcomesDoor, trapLogDoor } from '../../services/http/yard-doors.ts'

export type OutcomeWords = z.input<typeof outcomesDoor>
export type TrapWords = z.input<typeof trapLogDoor>
export type OutcomeWord = OutcomeWords['words'][number]
export type TrapWord = TrapWords['words'][number]
export type TakenWord = Extract<OutcomeWord, { kind: 'taken' }>
export type SaidTrapWord = Exclude<TrapWord, { kind: 'withdrawn' }>
export type AskedJob = z.input<typeof jobDoor>
export type JobWord = z.input<typeof jobWordDoor>

/** One thing to send, and where to. Each carries ids of this page's making: sent twice it is written down once. */
export type YardEntry =
  | { readonly to: 'outcomes'; readonly body: OutcomeWords }
  | { readonly to: 'trap log'; readonly body: TrapWords }
  | { readonly to: 'jobs'; readonly body: AskedJob }
  | { readonly to: 'job'; readonly jobId: string; readonly body: JobWord }

export function pathOf(entry: YardEntry): string {
  switch (entry.to) {
    case 'outcomes':
      return '/api/outcomes'
    case 'trap log':
      return '/api/trap-log'
    case 'jobs':
      return '/api/jobs'
    case 'job':
      return `/api/jobs/${entry.jobId}/words`
  }
}
