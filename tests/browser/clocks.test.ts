/** A clock that is a day ahead, found among the cameras and put right on a photo's page; a camera taken down; in a real browser. */
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { toStationTime } from '../../services/station-time.ts'
import type { Instant, Zone } from '../../services/words.ts'
import { photoTakenAt } from '../integration/photos.ts'
import { faultsOf, NO_FAULTS } from './basics.ts'
import { openBrowser, openPage } from './browser.ts'
import { startBuiltService } from './service.ts'

const PHONE = 390
const DESK = 1280
const START_TIMEOUT_MS = 400_000
const HOUR_MS = 3_600_000
const DAY_MS = 24 * HOUR_MS
/** Photos are put in their places in the background. */
const PATIENCE = { timeout: 20_000 }
const ZONE = 'Australia/Darwin' as Zone

const opened = await openBrowser()
const why = 'why' in opened ? ` (skipped: ${opened.why})` : ''

describe.skipIf(why !== '').sequential(`clocks${why}`, () => {
  let address = ''
  let stop: () => Promise<void> = async () => undefined
  let page: Page
  /** The latest photo was taken then, and says a day later. */
  const takenAt = (Math.floor((Date.now() - 6 * HOUR_MS) / 1000) * 1000) as Instant

  async function tell(method: string, path: string, body: unknown): Promise<unknown> {
    const answer = await fetch(`${address}${path}`, {
      method,
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(body),
    })
    expect(answer.ok).toBe(true)
    return await answer.json()
  }

  beforeAll(async () => {
    if ('why' in opened) return
    const service = await startBuiltService('serve')
    address = service.address
    stop = service.stop
    await tell('PUT', '/api/station', {
      name: 'Saltbush Flat',
      zone: ZONE,
      homestead: { lat: -23, lon: 133.5 },
    })
    const { point } = (await tell('POST', '/api/points', { name: 'Wren Bore', lat: -23.1, lon: 133.6 })) as {
      point: { id: number }
    }
    const { key } = (await tell('POST', '/api/cameras', { name: 'Wren camera', pointId: point.id })) as {
      key: string
    }
    for (const hoursBefore of [0, 24, 48]) {
      const said = toStationTime((takenAt + DAY_MS - hoursBefore * HOUR_MS) as Instant, ZONE)
      const sent = await fetch(`${address}/api/stills`, {
        method: 'POST',
        headers: { 'X-Camera-Key': key, 'Content-Type': 'image/jpeg' },
        body: new Uint8Array(await photoTakenAt('kite-bore-03.jpg', said)),
      })
      expect(sent.status).toBe(201)
    }
    page = await openPage(opened.browser, { width: PHONE })
  }, START_TIMEOUT_MS)
  afterAll(async () => {
    if ('browser' in opened) await opened.browser.close()
    await stop()
  })

  const fold = () => page.locator('summary', { hasText: 'Say when it was really taken' })

  test('the cameras say whose clock is in doubt and why, and lead to the photo', async () => {
    await page.goto(`${address}/cameras`)
    await page.getByRole('heading', { name: 'Wren camera' }).waitFor()
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
    await page.getByRole('link', { name: 'in doubt on 1 photo: the clock is in the future' }).click()
    await fold().waitFor()
  })

  test('its time is put right with all photos of the camera: seen before, done, and told', async () => {
    await fold().click()
    await page.getByLabel('Really taken on').fill(toStationTime(takenAt, ZONE).slice(0, 10))
    await page.getByLabel('Move with it').selectOption({ label: 'All photos of this camera' })
    await page.getByText('3 photos of Wren camera, each 1 day earlier.').waitFor()
    await page.getByText('Clock in doubt on 1 of them now, on 0 then.').waitFor()
    expect(await page.getByRole('row').count()).toBe(4)
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
    await page.getByRole('button', { name: 'Put the time right' }).click()
    await page.getByText('Time put right, 1 day earlier, with 2 others').waitFor()
    await expect.poll(() => page.getByText('Clock in doubt:').count(), PATIENCE).toBe(0)
    await page.locator('summary', { hasText: 'The time is wrong' }).waitFor()
  })

  test('undone, the doubt is there again', async () => {
    await page.getByRole('button', { name: 'Undo' }).click()
    await page.getByText('Clock in doubt: the clock is in the future').waitFor()
    await expect.poll(() => page.getByText('Time put right').count(), PATIENCE).toBe(0)
  })

  test('a camera is taken down in Set-up, and the list says so', async () => {
    await page.setViewportSize({ width: DESK, height: 900 })
    await page.goto(`${address}/setup#cameras`)
    await page.getByRole('button', { name: 'Change the camera Wren camera' }).click()
    const down = page.getByLabel('Taken down on')
    await down.fill(toStationTime((Date.now() - DAY_MS) as Instant, ZONE).slice(0, 10))
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
    await page.getByRole('button', { name: 'Save when it stood where' }).click()
    await page.locator('.camera-times').getByText('Saved.').waitFor()
    await page.goto(`${address}/cameras`)
    await page.getByText('Taken down', { exact: true }).waitFor()
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
  })

  test('a night’s watching is corrected with a note and taken back', async () => {
    await page.goto(`${address}/points/1`)
    await page.locator('summary', { hasText: 'How this night was watched' }).click()
    await page.getByText(/Not up here: \d+ h \(Wren camera\)/).waitFor()
    await page.getByLabel('Watched, by your word (per cent)').fill('half')
    await page.getByRole('button', { name: 'Save what was watched' }).click()
    await expect
      .poll(() => page.getByLabel('Watched, by your word (per cent)').getAttribute('aria-invalid'))
      .toBe('true')
    await page.getByLabel('Watched, by your word (per cent)').fill('50')
    await page.getByLabel('Note').fill('sat there')
    await page.getByRole('button', { name: 'Save what was watched' }).click()
    await page.getByText(/50 % \(station, .*\): sat there/).waitFor()
    await page.getByRole('button', { name: 'Take the word back' }).click()
    await page.getByText(/Word taken back/).waitFor()
  })
})
