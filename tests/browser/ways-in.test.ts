/** How a camera's photos come in, set up and tried in a real browser: the photo it got, or the exact reason it did not. */
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type CameraServer, gives, startCamera, wantsBasic } from '../integration/camera-server.ts'
import { photoTakenAt } from '../integration/photos.ts'
import { faultsOf, NO_FAULTS } from './basics.ts'
import { openBrowser, openPage } from './browser.ts'
import { startBuiltService } from './service.ts'

const PHONE = 390
const DESK = 1280
const START_TIMEOUT_MS = 400_000

const opened = await openBrowser()
const why = 'why' in opened ? ` (skipped: ${opened.why})` : ''

describe.skipIf(why !== '').sequential(`ways in${why}`, () => {
  let address = ''
  let stop: () => Promise<void> = async () => undefined
  let page: Page
  let camera: CameraServer
  let root = ''

  beforeAll(async () => {
    if ('why' in opened) return
    root = await mkdtemp(join(tmpdir(), 'hooftally-drop-'))
    await mkdir(join(root, 'kite'))
    camera = await startCamera()
    const service = await startBuiltService('serve', ['--drop-root', root, '--camera-host', '127.0.0.1'])
    address = service.address
    stop = service.stop
    const tell = (method: string, path: string, body: object) =>
      fetch(`${address}/api/${path}`, {
        method,
        headers: { 'Content-Type': 'application/json' },
        body: JSON.stringify(body),
      })
    const homestead = { lat: -23, lon: 133.5 }
    await tell('PUT', 'station', { name: 'Saltbush Flat', zone: 'Australia/Darwin', homestead })
    await tell('POST', 'points', { name: 'Kite Bore', lat: -23, lon: 133.6 })
    await tell('POST', 'cameras', { name: 'Kite camera', pointId: 1 })
    page = await openPage(opened.browser, { width: PHONE })
  }, START_TIMEOUT_MS)
  afterAll(async () => {
    if ('browser' in opened) await opened.browser.close()
    await camera?.close()
    await stop()
    await rm(root, { recursive: true, force: true })
  })

  const ways = () => page.locator('.ways-in')
  const openWays = async () => {
    await page.goto(`${address}/setup#cameras`)
    // The same address again opens nothing anew.
    await page.reload()
    await page.getByRole('button', { name: 'How photos of Kite camera come in' }).click()
    await ways().waitFor()
  }
  const press = (name: string | RegExp) => ways().getByRole('button', { name }).click()

  test('nothing yet: it says so, and how the camera may send by itself', async () => {
    await openWays()
    await ways().getByText('Nothing is fetched for this camera').waitFor()
    await ways().getByText(`${address}/api/k/KEY/stills`).waitFor()
  })
  test('a folder that may not be read is refused at its field', async () => {
    await press('Add a folder on this computer')
    await ways().getByLabel('Folder', { exact: true }).fill('/etc')
    await press('Save')
    await ways()
      .getByText(/lies outside of the folders/)
      .waitFor()
    expect(await ways().getByLabel('Folder', { exact: true }).getAttribute('aria-invalid')).toBe('true')
  })
  test('one that may be is tried, and shows the photo that lay in it', async () => {
    await ways().getByLabel('Folder', { exact: true }).fill('kite')
    await press('Save')
    await ways().getByText('From a folder on this computer').waitFor()
    await press('Pause')
    await writeFile(
      join(root, 'kite', 'a.jpg'),
      await photoTakenAt('kite-bore-03.jpg', '2026-11-20T09:00:00+09:30'),
    )
    await press(/^Try it now/)
    await ways()
      .getByText(/This photo (came|had come before):/)
      .waitFor()
    await ways().locator('.tried-photo img').waitFor()
    await ways().getByText('Fri 20 Nov, 09:00').waitFor()
  })
  test('an address with a password: the reason first, then the photo', async () => {
    const photo = await photoTakenAt('kite-bore-09.jpg', '2026-11-20T21:00:00+09:30')
    camera.handle(
      wantsBasic(
        'gate',
        'creek',
        gives(() => photo),
      ),
    )
    await press('Add a photo fetched from an address')
    await ways().getByLabel('Address of one photo').fill(camera.address)
    await press('Save')
    await ways().getByText('Fetched from its address').waitFor()
    await press('Try it now: Fetched from its address')
    await ways().getByRole('status').getByText('The camera asks for a name and a password.').waitFor()
    await press('Change: Fetched from its address')
    await ways().getByLabel('Name', { exact: true }).fill('gate')
    await ways().getByLabel('Password').fill('creek')
    await press('Save')
    await press('Try it now: Fetched from its address')
    await ways().getByText('Fri 20 Nov, 21:00').waitFor()
    expect(await page.content()).not.toContain('creek')
  })
  test('what is kept of a password is only that there is one', async () => {
    await press('Change: Fetched from its address')
    expect(await ways().getByLabel('Password').inputValue()).toBe('')
    await ways().getByText('One is kept; empty leaves it as it is.').waitFor()
    await press('Cancel')
  })
  test('taken away, after a question', async () => {
    await press('Take away: From a folder on this computer')
    await press('Yes, take it away')
    await expect.poll(() => ways().getByText('From a folder on this computer').count()).toBe(0)
  })
  test.each([PHONE, DESK])('the page holds up at %i px', async (width) => {
    await page.setViewportSize({ width, height: 900 })
    await openWays()
    await press('Add a photo fetched from an address')
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
  })
})
