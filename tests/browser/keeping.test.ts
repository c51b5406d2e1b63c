/** Keeping photos in Set-up, and a disk too full for more, in a real browser. */
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest'
import { faultsOf, NO_FAULTS } from './basics.ts'
import { openBrowser, openPage } from './browser.ts'
import { startBuiltService } from './service.ts'

const PHONE = 390
const DESK = 1280
const START_TIMEOUT_MS = 400_000
/** More than any disk has. */
const NO_DISK_MB = '1000000000'

const opened = await openBrowser()
const why = 'why' in opened ? ` (skipped: ${opened.why})` : ''

describe.skipIf(why !== '').sequential(`keeping photos${why}`, () => {
  let address = ''
  let stop: () => Promise<void> = async () => undefined
  let page: Page

  beforeAll(async () => {
    if ('why' in opened) return
    vi.stubEnv('HOOFTALLY_DISK_RESERVE_MB', NO_DISK_MB)
    const service = await startBuiltService('serve').finally(() => vi.unstubAllEnvs())
    address = service.address
    stop = service.stop
    const station = { name: 'Saltbush Flat', zone: 'Australia/Darwin', homestead: { lat: -23, lon: 133.5 } }
    const saved = await fetch(`${address}/api/station`, {
      method: 'PUT',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(station),
    })
    expect(saved.status).toBe(200)
    page = await openPage(opened.browser, { width: PHONE })
  }, START_TIMEOUT_MS)
  afterAll(async () => {
    if ('browser' in opened) await opened.browser.close()
    await stop()
  })

  const part = () => page.getByRole('region', { name: 'Keeping photos' })

  test('the Water run says that photos are not coming in, and leads to what can be done', async () => {
    await page.goto(address)
    await page.getByRole('alert').getByText('photos are not coming in').waitFor()
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
    await page.getByRole('link', { name: 'Keeping photos' }).click()
    await part().waitFor()
    expect(new URL(page.url()).hash).toBe('#keeping')
  })
  test('Set-up says it too', async () => {
    await page.getByRole('alert').getByText('photos are not coming in').waitFor()
  })
  test('a rule says what it would free before it is saved, and stays once it is', async () => {
    await part().getByLabel('Photos with nothing on them').selectOption({ label: 'Drop the picture' })
    await part().getByText('No photo would go today.').waitFor()
    await part().getByLabel('Days after they came in').fill('30')
    await part().getByRole('button', { name: 'Save how photos are kept' }).click()
    await part().getByText('Saved.').waitFor()
    await page.reload()
    await expect.poll(() => part().getByLabel('Days after they came in').inputValue()).toBe('30')
    expect(await part().getByLabel('Photos with nothing on them').inputValue()).toBe('drop')
  })
  test('days that are none are refused at their field', async () => {
    await part().getByLabel('Days after they came in').fill('some')
    await part().getByRole('button', { name: 'Save how photos are kept' }).click()
    await expect
      .poll(() => part().getByLabel('Days after they came in').getAttribute('aria-invalid'))
      .toBe('true')
  })
  test.each([PHONE, DESK])('the page holds up at %i px', async (width) => {
    await page.setViewportSize({ width, height: 900 })
    await page.goto(`${address}/setup#keeping`)
    await part().waitFor()
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
    if (process.env.STORAGE_SHOTS) {
      await page.screenshot({ path: `${process.env.STORAGE_SHOTS}/setup-${width}.png`, fullPage: true })
      await page.goto(address)
      await page.getByRole('alert').waitFor()
      await page.screenshot({ path: `${process.env.STORAGE_SHOTS}/run-${width}.png` })
    }
  })
})
