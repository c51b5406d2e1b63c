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
