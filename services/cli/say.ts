import { Refusal } from '../refusal.ts'

/** Says what went wrong and what to do, on stderr; returns the exit code. An unforeseen fault is shown whole. */
export function sayRefusal(fault: unknown): number {
  if (fault instanceof Refusal) process.stderr.write(`${fault.message}\n${fault.remedy}\n`)
  else process.stderr.write(`${fault instanceof Error ? (fault.stack ?? fault.message) : String(fault)}\n`)
  return 1
}

/** One line of a running service for the person at the terminal. */
export function sayLine(line: string): void {
  process.stdout.write(`${line}\n`)
}

const SAY_EVERY_MS = 2_000

/** A speaker for long work: says a line at most every two seconds, and asks for it only then. */
export function sayEvery(): (line: () => string) => void {
  let saidAt = Date.now()
  return (line) => {
    if (Date.now() - saidAt < SAY_EVERY_MS) return
    saidAt = Date.now()
    sayLine(line())
  }
}
