/** `hooftally report` on a station's database: a page, CSV or JSON of the same week. */
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest'
import { runReport } from '../../services/cli/report.ts'
import { pressureAnswer } from '../../services/http/pressure-shapes.ts'
import { unitsCsv } from '../../services/report/csv.ts'
import { parseInstant } from '../../services/station-time.ts'
import { openSmallStation, receive, record } from './small-station.ts'

let station: Awaited<ReturnType<typeof openSmallStation>>
let folder: string

beforeAll(async () => {
  station = await openSmallStation()
  folder = await mkdtemp(join(tmpdir(), 'hooftally-report-'))
  for (const [name, at] of [
    ['a', '2026-10-06T20:00:00+10:30'],
    ['b', '2026-10-08T20:00:00+10:30'],
    ['c', '2026-10-13T20:00:00+10:30'],
  ] as const) {
    const still = { name, cameraId: station.cameraIds[1], at: parseInstant(at) }
    await record(station, await receive(station, still), { camel: 2 })
  }
})
afterAll(async () => {
  await station.close()
  await rm(folder, { recursive: true, force: true })
})

async function printed(...options: string[]): Promise<string> {
  vi.stubEnv('DATABASE_URL', station.url)
  const parts: string[] = []
  const out = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    parts.push(String(text))
    return true
  })
  try {
    expect(await runReport(['--data', folder, ...options])).toBe(0)
    return parts.join('')
  } finally {
    out.mockRestore()
    vi.unstubAllEnvs()
  }
}

describe('the week from the command line', () => {
  it('as JSON it is what the service answers', async () => {
    const report = pressureAnswer.parse(JSON.parse(await printed('--week', '2026-W41', '--format', 'json')))
    expect(report.rows).toMatchObject([{ species: 'camel', visits: 2, animalVisits: 4 }])
  })
  it('as CSV it has a row for each species, as a page what changed', async () => {
    expect((await printed('--week', '2026-W41', '--format', 'csv')).trimEnd().split('\r\n')).toHaveLength(6)
    expect(await printed('--week', '2026-W41')).toMatch(/^<!doctype html>[\s\S]*What changed/)
  })
  it('says what the columns are, for any week', async () => {
    expect(await printed('--units')).toBe(unitsCsv())
  })
  it.each([
    ['--week', '2026-W54', '--week'],
    ['--week', 'last', '--week'],
    ['--format', 'pdf', '--format'],
  ])('refuses %s %s', async (option, value, field) => {
    await expect(printed(option, value)).rejects.toMatchObject({ name: 'Refusal', field })
  })
})
