/** The demo from nothing: how soon it answers, how soon its past is in, how fast the water run is then, and the memory. */
import { chmod, mkdtemp, readFile, rm } from 'node:fs/promises'
import { availableParallelism, tmpdir } from 'node:os'
import { join } from 'node:path'
import { openBrowser, openPage } from '../browser/browser.ts'
import { childrenOf, startServiceProcess } from '../faults/service-process.ts'

const WATER_RUNS = 40
/** Each with what is there once its numbers are. */
const SCREENS = [
  ['water run', '/', '.point-row'],
  ['photos to check', '/check', '.card-photo, .all-done'],
  ['grazing pressure', '/pressure', 'main table'],
] as const
const MEGABYTE = 1024 * 1024

export async function benchDemo(): Promise<void> {
  const data = await mkdtemp(join(tmpdir(), 'hooftally-bench-'))
  await chmod(data, 0o755)
  const startedAt = performance.now()
  const seconds = () => ((performance.now() - startedAt) / 1000).toFixed(1)
  const service = await startServiceProcess('demo', { data })
  try {
    const addressAfter = seconds()
    const whole = await wholePast(service.output)
    const pastAfter = seconds()
    const waterRunMs = await timeWaterRuns(service.address)
    console.log(`demo: first address after ${addressAfter} s`)
    console.log(`demo: whole past (${whole} photos) in after ${pastAfter} s, ${availableParallelism()} cores`)
    console.log(
      `demo: water run with the past in: median ${waterRunMs.median.toFixed(1)} ms, slowest of ${WATER_RUNS} ${waterRunMs.slowest.toFixed(1)} ms`,
    )
    for (const line of await firstPaints(service.address)) console.log(line)
    const [eye] = await childrenOf(service.pid, 'worker/main')
    console.log(
      `demo: peak memory: service ${await peakMegabytes(service.pid)} MB, eye ${await peakMegabytes(eye)} MB`,
    )
  } finally {
    await service.stop()
    await rm(data, { recursive: true, force: true })
  }
}

async function wholePast(output: () => string): Promise<number> {
  for (;;) {
    const said = /The whole past is in: (\d+) photos/.exec(output())
    if (said) return Number(said[1])
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
}

async function timeWaterRuns(address: string): Promise<{ median: number; slowest: number }> {
  const times: number[] = []
  for (let run = 0; run < WATER_RUNS; run += 1) {
    const askedAt = performance.now()
    const response = await fetch(`${address}/api/water-run`)
    if (!response.ok) throw new Error(`the water run answered ${response.status}`)
    await response.arrayBuffer()
    times.push(performance.now() - askedAt)
  }
  times.sort((a, b) => a - b)
  return { median: times[Math.floor(times.length / 2)]!, slowest: times.at(-1)! }
}

/** From the start of loading a screen to the first of it on a phone's page (W3C, Paint Timing), each in a browser that knows nothing of it. */
async function firstPaints(address: string): Promise<string[]> {
  const opened = await openBrowser()
  if ('why' in opened) return [`demo: first paint not measured: ${opened.why}`]
  const lines: string[] = []
  for (const [name, path, whole] of SCREENS) {
    const page = await openPage(opened.browser, { width: 390 })
    const from = performance.now()
    await page.goto(`${address}${path}`)
    await page.locator(whole).first().waitFor()
    const numbersMs = performance.now() - from
    const painted = await page.evaluate(
      async () => performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? Number.NaN,
    )
    lines.push(
      `demo: ${name}: first paint after ${painted.toFixed(0)} ms, its numbers after ${numbersMs.toFixed(0)} ms`,
    )
    await page.context().close()
  }
  await opened.browser.close()
  return lines
}

/** The most memory a process ever held (VmHWM), where Linux tells. */
async function peakMegabytes(pid: number | undefined): Promise<string> {
  const status = pid === undefined ? '' : await readFile(`/proc/${pid}/status`, 'utf8').catch(() => '')
  const kilobytes = /VmHWM:\s+(\d+) kB/.exec(status)?.[1]
  return kilobytes === undefined ? 'unknown' : String(Math.round((Number(kilobytes) * 1024) / MEGABYTE))
}
