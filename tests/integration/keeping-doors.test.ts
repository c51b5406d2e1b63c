/** Keeping photos, through the doors: the rule, what it would free, and what is shown of a photo that went. */
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest'
import { runRetentionCommand } from '../../services/cli/retention.ts'
import { keepingAnswer, keepingPreview, stillAnswer } from '../../services/http/shapes.ts'
import { runRetention } from '../../services/store/retention.ts'
import { photoTakenAt } from './photos.ts'
import { MORNING, problemOf, type SetUpCamera, strictly, type TestService } from './service.ts'
import { openStationWithCamera } from './station.ts'

/** Nothing on it, and two cattle (services/demo/stills/truth.json). */
const EMPTY = 'galah-well-00.jpg'
const CATTLE = 'galah-well-04.jpg'

let service: TestService
let camera: SetUpCamera
let emptyId: number
let cattleId: number
let emptyBytes: Buffer

beforeAll(async () => {
  ;({ service, camera } = await openStationWithCamera())
  emptyBytes = await photoTakenAt(EMPTY, '2026-11-24T20:00:00+10:30')
  const send = async (bytes: Buffer) => {
    const answer = await service.post('/api/stills', camera, bytes)
    return (answer.json as { stills: [{ id: number }] }).stills[0].id
  }
  emptyId = await send(emptyBytes)
  cattleId = await send(await photoTakenAt(CATTLE, '2026-11-24T20:05:00+10:30'))
  await service.waitUntilRead()
}, 120_000)
afterAll(() => service?.stop())

const stillNow = async (id: number) => strictly(stillAnswer, await service.ask(`/api/stills/${id}`)).still
const preview = async (query: string) =>
  strictly(keepingPreview, await service.ask(`/api/keeping/preview?${query}`))
async function runNow() {
  const { ledger, files, now } = service.house
  return await runRetention({ ledger, files, now: now() })
}

test('the photos are what the test takes them for', async () => {
  expect((await stillNow(emptyId)).tally).toEqual({})
  expect((await stillNow(emptyId)).flagged).toBe(false)
  expect((await stillNow(cattleId)).tally).not.toEqual({})
})

test('before anybody chose, everything is kept', async () => {
  expect(strictly(keepingAnswer, await service.ask('/api/keeping'))).toEqual({
    keeping: { empties: 'keep', afterDays: 60 },
    last: null,
  })
})

describe('a rule that is none is refused, and the field is named', () => {
  test.each([
    [{ empties: 'burn', afterDays: 60 }, 'empties'],
    [{ empties: 'drop' }, 'afterDays'],
    [{ empties: 'drop', afterDays: 0 }, 'afterDays'],
    [{ empties: 'drop', afterDays: 1.5 }, 'afterDays'],
    [{ empties: 'drop', afterDays: 60, cattle: 'drop' }, 'cattle'],
  ])('%o', async (body, field) => {
    const problem = problemOf(await service.send('PUT', '/api/keeping', body), 400)
    expect(problem.field).toBe(field)
    if (field === 'afterDays') expect(problem.detail).toContain('whole number of days')
    const answer = await service.ask('/api/keeping')
    expect(strictly(keepingAnswer, answer).keeping.empties).toBe('keep')
  })
})

test('what a rule would free is said before it is chosen', async () => {
  service.passHours(24 * 61)
  expect(await preview('empties=drop&afterDays=60')).toEqual({ photos: 1, bytes: emptyBytes.length })
  expect(await preview('empties=drop&afterDays=62')).toEqual({ photos: 0, bytes: 0 })
  expect(await preview('empties=keep&afterDays=1')).toEqual({ photos: 0, bytes: 0 })
  const smaller = await preview('empties=shrink&afterDays=60')
  expect(smaller.photos).toBe(1)
  expect(smaller.bytes).toBeGreaterThan(0)
  expect(smaller.bytes).toBeLessThan(emptyBytes.length)
  // Left out, it is the station's own: 60 days.
  expect((await preview('empties=drop')).photos).toBe(1)
  expect(problemOf(await service.ask('/api/keeping/preview?empties=burn'), 400).field).toBe('empties')
})

test('the command says the same and changes nothing', async () => {
  // Its own clock is the machine's, so it is given the days that make the photo old enough for it.
  const cameIn = (at: Date) => service.house.ledger.updateTable('stills').set({ received_at: at }).execute()
  await cameIn(new Date(Date.now() - 2 * 86_400_000))
  vi.stubEnv('DATABASE_URL', service.databaseUrl)
  vi.stubEnv('HOOFTALLY_DATA', service.dataFolder)
  const printed: string[] = []
  const out = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    printed.push(String(text))
    return true
  })
  try {
    expect(await runRetentionCommand(['--dry-run', '--empties', 'drop', '--after-days', '1'])).toBe(0)
    await expect(runRetentionCommand(['--empties', 'drop'])).rejects.toMatchObject({ field: '--empties' })
  } finally {
    out.mockRestore()
    vi.unstubAllEnvs()
    await cameIn(new Date(MORNING))
  }
  expect(printed.join('')).toContain(`let 1 photos go and free ${emptyBytes.length} bytes`)
  expect((await stillNow(emptyId)).kept).toBe('whole')
})

test('made smaller, the full address shows the small picture', async () => {
  const saved = await service.send('PUT', '/api/keeping', { empties: 'shrink', afterDays: 60 })
  expect(strictly(keepingAnswer, saved).keeping).toEqual({ empties: 'shrink', afterDays: 60 })
  expect((await runNow()).photos).toBe(1)
  const still = await stillNow(emptyId)
  expect(still.kept).toBe('small')
  const [full, small] = [await service.ask(still.fullUrl), await service.ask(still.smallUrl)]
  expect([full.status, full.headers.get('content-type')]).toEqual([200, 'image/webp'])
  expect(full.bytes.equals(small.bytes)).toBe(true)
})

test('dropped, its picture is said to be no longer kept, and that answer is not kept for good', async () => {
  await service.send('PUT', '/api/keeping', { empties: 'drop', afterDays: 60 })
  await runNow()
  const still = await stillNow(emptyId)
  expect(still).toMatchObject({ kept: 'none', state: 'done', tally: {} })
  for (const url of [still.fullUrl, still.smallUrl]) {
    const answer = await service.ask(url)
    expect(problemOf(answer, 404).detail).toContain('no longer kept')
    expect(answer.headers.get('cache-control')).toBe('no-store')
  }
})

test('what the last run freed is told', async () => {
  const { last } = strictly(keepingAnswer, await service.ask('/api/keeping'))
  expect(last).toMatchObject({ photos: 1 })
})

test('sent again, the dropped photo is known and its picture stays gone', async () => {
  const answer = await service.post('/api/stills', camera, emptyBytes)
  expect(answer.status).toBe(200)
  expect((await stillNow(emptyId)).kept).toBe('none')
})

test('the photo with cattle is there as it came', async () => {
  const still = await stillNow(cattleId)
  expect(still.kept).toBe('whole')
  expect((await service.ask(still.fullUrl)).status).toBe(200)
})
