/** Work on many stills, timed by the clock and by the processor. */

/** Works on the still of this number to its end. */
export type Work = (still: number) => Promise<unknown>

export interface Round {
  readonly stillsPerSecond: number
  /** Processor time of the whole process: steadier than the clock where other work shares the cores. */
  readonly cpuMsPerStill: number
}

/** Works through all stills with so many in flight. */
export async function round(work: Work, stills: number, atOnce: number): Promise<Round> {
  const cpu = process.cpuUsage()
  const start = performance.now()
  let next = 0
  const lane = async () => {
    while (next < stills) await work(next++)
  }
  await Promise.all(Array.from({ length: atOnce }, lane))
  const used = process.cpuUsage(cpu)
  return {
    stillsPerSecond: (stills * 1000) / (performance.now() - start),
    cpuMsPerStill: (used.user + used.system) / 1000 / stills,
  }
}

export function median(numbers: readonly number[]): number {
  const sorted = numbers.toSorted((a, b) => a - b)
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN
}
