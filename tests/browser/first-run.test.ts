/** A station of one's own: from an empty service to the first photo seen, in a real browser. */
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Camera } from '../../services/http/shapes.ts'
import { demoStillsFolder } from '../../services/paths.ts'
import { faultsOf, NO_FAULTS } from './basics.ts'
import { openBrowser, openPage } from './browser.ts'
import { startBuiltService, untilRead } from './service.ts'

const PHONE = 390
/** Starting, and building where a source has changed, on a machine that does other work as well. */
const START_TIMEOUT_MS = 400_000

const opened = await openBrowser()
const why = 'why' in opened ? ` (skipped: ${opened.why})` : ''

/** One after the other: each step stands on the one before, as it does for the person who sets up. */
describe.skipIf(why !== '').sequential(`first run${why}`, () => {
  let address = ''
  let stop: () => Promise<void> = async () => undefined
  let page: Page
  let key = ''

  beforeAll(async () => {
    if ('why' in opened) return
    const service = await startBuiltService('serve')
    address = service.address
    stop = service.stop
    page = await openPage(opened.browser, { width: PHONE })
    await page.goto(address)
  }, START_TIMEOUT_MS)
  afterAll(async () => {
    if ('browser' in opened) await opened.browser.close()
    await stop()
  })

  const part = (name: string) => page.getByRole('region', { name })

  test('an empty service opens set-up, with the browser’s own zone filled in', async () => {
    await page.getByRole('heading', { name: 'Set up your station' }).waitFor()
    expect(new URL(page.url()).pathname).toBe('/setup')
    // The zone that openPage gives the browser.
    expect(await page.getByLabel('Time zone').inputValue()).toBe('America/Bogota')
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
  })

  test('a latitude of 200 is refused at its field, with what to do', async () => {
    await page.getByLabel('Station name').fill('Saltbush Flat')
    await page.getByLabel('Time zone').fill('Australia/Darwin')
    await page.getByLabel('Homestead latitude').fill('200')
    await page.getByLabel('Homestead longitude').fill('133.5')
    await page.getByRole('button', { name: 'Save the station' }).click()
    const latitude = page.getByLabel('Homestead latitude')
    await expect.poll(() => latitude.getAttribute('aria-invalid')).toBe('true')
    const wrong = page.locator('.field-wrong')
    expect(await wrong.count()).toBe(1)
    expect(await wrong.getByRole('alert').textContent()).toContain('90')
  })

  test('a zone that is none is refused at its field', async () => {
    await page.getByLabel('Homestead latitude').fill('-23.5')
    await page.getByLabel('Time zone').fill('Outback/Nowhere')
    await page.getByRole('button', { name: 'Save the station' }).click()
    await expect.poll(() => page.getByLabel('Time zone').getAttribute('aria-invalid')).toBe('true')
  })

  test('once right it is saved and the station’s name stands at the head', async () => {
    await page.getByLabel('Time zone').fill('Australia/Darwin')
    await page.getByRole('button', { name: 'Save the station' }).click()
    await page.locator('.product', { hasText: 'Saltbush Flat' }).waitFor()
    await page.getByRole('heading', { name: 'Points', exact: true }).waitFor()
  })

  test('without points the water run says what to do', async () => {
    await page.getByRole('link', { name: 'Water run' }).first().click()
    await page.getByText('No points yet.').waitFor()
    await page.getByRole('link', { name: 'Add points' }).click()
    await page.getByRole('button', { name: 'Add a point' }).waitFor()
  })

  test('a point is added', async () => {
    await page.getByRole('button', { name: 'Add a point' }).click()
    const form = page.getByRole('form', { name: 'Add a point' })
    await form.getByLabel('Name').fill('Brumby Bore')
    await form.getByLabel('Latitude').fill('-23.6')
    await form.getByLabel('Longitude').fill('133.6')
    await form.getByRole('button', { name: 'Save the point' }).click()
    await part('Points').getByText('Brumby Bore').waitFor()
  })

  test('a points file with a latitude of 200 is refused, and nothing of it is taken', async () => {
    const file = part('Points').locator('input[type="file"]')
    await file.setInputFiles({
      name: 'points.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from('name,kind,lat,lon\nGood Tank,tank,-23.7,133.7\nFar Tank,tank,200,133.7\n'),
    })
    await part('Points').getByRole('alert').waitFor()
    expect(await part('Points').getByRole('alert').textContent()).toMatch(/row 2.*lat/)
    expect(await part('Points').getByText('Good Tank').count()).toBe(0)
  })

  test('a points file put right adds its points', async () => {
    const file = part('Points').locator('input[type="file"]')
    await file.setInputFiles({
      name: 'points.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from('name,kind,lat,lon\nGood Tank,tank,-23.7,133.7\nFar Tank,tank,-23.9,133.7\n'),
    })
    await part('Points').getByText('2 points added').waitFor()
    await part('Points').getByText('Far Tank').waitFor()
  })

  test('a camera put up on a day to come is refused at its field', async () => {
    await page.getByRole('button', { name: 'Add a camera' }).click()
    const form = page.getByRole('form', { name: 'Add a camera' })
    await form.getByLabel('Name').fill('Brumby Bore trough')
    await form.getByLabel('Put up since').fill('2999-01-01')
    await form.getByRole('button', { name: 'Save the camera' }).click()
    await expect.poll(() => form.getByLabel('Put up since').getAttribute('aria-invalid')).toBe('true')
    expect(await form.getByRole('alert').textContent()).toContain('today at the latest')
  })

  test('a camera gets a key that is shown once, with the line that sends a photo', async () => {
    const form = page.getByRole('form', { name: 'Add a camera' })
    await form.getByLabel('Put up since').fill('2025-03-01')
    await form.getByLabel('Stands at').selectOption({ label: 'Brumby Bore' })
    await form.getByRole('button', { name: 'Save the camera' }).click()
    await page.locator('.key-text').waitFor()
    key = (await page.locator('.key-text').textContent()) ?? ''
    expect(key.length).toBeGreaterThanOrEqual(20)
    const { cameras } = (await (await fetch(`${address}/api/cameras`)).json()) as { cameras: Camera[] }
    // Darwin keeps one time all year, +09:30 (IANA time zone database).
    expect(cameras.map(({ since }) => since)).toEqual(['2025-03-01T00:00:00+09:30'])
    const [line = '', link] = await page.locator('.send-line').allTextContents()
    expect(line).toContain(`X-Camera-Key: ${key}`)
    expect(line).toContain(`${address}/api/stills`)
    expect(link).toBe(`${address}/api/k/${key}/stills`)
    await page.getByRole('button', { name: 'I have it' }).click()
    expect(await page.locator('.key-text').count()).toBe(0)
    await part('Cameras')
      .getByText(`Key ends in ${key.slice(-4)}`)
      .waitFor()
  })

  test('the first photo sent with that key is seen on the water run and on the point’s page', async () => {
    const answer = await fetch(`${address}/api/stills`, {
      method: 'POST',
      headers: { 'X-Camera-Key': key, 'Content-Type': 'image/jpeg', 'X-Taken-At': new Date().toISOString() },
      body: await readFile(join(demoStillsFolder, 'kite-bore-02.jpg')),
    })
    expect(answer.status).toBe(201)
    await untilRead(address)
    await page.getByRole('link', { name: 'Water run' }).first().click()
    const row = page.locator('.point-row', { has: page.getByRole('link', { name: 'Brumby Bore' }) })
    await row.locator('.point-photo img').waitFor()
    await row.getByText('Camera watching').waitFor()
    await row.getByRole('link', { name: 'Brumby Bore' }).click()
    await page.locator('.film-strip .photo img').waitFor()
  })

  test('health says in plain words that the service is well and which models count', async () => {
    await page.getByRole('link', { name: 'Set-up' }).first().click()
    await page.getByText('The service is well.').waitFor()
    await page.getByText('For whoever looks after the computer').click()
    expect(await page.locator('.hash').first().textContent()).toMatch(/^[0-9a-f]{64}$/)
  })
})
