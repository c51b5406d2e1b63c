/** The blind look, and the page that says how right the count is, in a real browser. */
import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest'
import { stationAnswer } from '../../services/http/shapes.ts'
import { projectFolder } from '../../services/paths.ts'
import { drawWeek } from '../../services/store/audits.ts'
import { weekOf } from '../../services/tally/weeks.ts'
import type { NightDate } from '../../services/words.ts'
import type { TestService } from '../integration/service.ts'
import { addPointWithCamera, openStation, sendPhotos } from '../integration/station.ts'
import { faultsOf, NO_FAULTS } from './basics.ts'
import { openBrowser, openPage } from './browser.ts'

const PHONE = 390
const DESK = 1280
const STUB_EYE = join(projectFolder, 'dist', 'tests', 'stub-eye.js')
const WEEK = weekOf('2026-11-16' as NightDate)

const opened = await openBrowser()
const why = 'why' in opened ? ` (skipped: ${opened.why})` : ''
const browser = 'browser' in opened ? opened.browser : (null as unknown as Browser)

describe.skipIf(why !== '').sequential(`how right the count is${why}`, () => {
  let service: TestService
  let page: Page
  const open = async (path: string, width = DESK) => {
    page = await openPage(browser, { width })
    await page.goto(service.address + path)
  }
  const openNow = async () => ((await service.ask('/api/audits/looks')).json as { open: number }).open

  beforeAll(async () => {
    service = await openStation({ surroundings: { eyeEntry: STUB_EYE } })
    const wren = await addPointWithCamera(service, { name: 'Wren Bore' })
    // Two photos within the gap are one look; the other two are one each.
    await sendPhotos(service, wren, [
      ['galah-well-00.jpg', '2026-11-17T08:00:00+10:30'],
      ['galah-well-06.jpg', '2026-11-17T08:10:00+10:30'],
      ['galah-well-04.jpg', '2026-11-18T08:00:00+10:30'],
      ['galah-well-01.jpg', '2026-11-18T21:00:00+10:30'],
    ])
    await service.waitUntilRead()
  })
  afterEach(() => page?.context().close())
  afterAll(async () => {
    await browser?.close()
    await service?.stop()
  })

  test('before the first draw both pages say what will come, and when', async () => {
    await open('/blind-look', PHONE)
    await page.getByText('No blind look waits.').waitFor()
    await page.getByText('The first draw comes after noon on Mon 30 Nov at the latest.').waitFor()
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
    await page.getByRole('link', { name: 'How right the count is' }).first().click()
    await page.getByText('No blind looks yet.').waitFor()
    await page.getByText('Nobody has spoken of a photo yet.').waitFor()
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
  })

  test('a look is told by keys, photo by photo, and only then is the camera count shown', async () => {
    await drawWeek(service.house.ledger, { week: WEEK, now: service.house.now(), seed: 'a seed' })
    await open('/blind-look')
    for (let left = 3; left > 0; left--) {
      await page.getByText(`${left} ${left === 1 ? 'look' : 'looks'} to go`).waitFor()
      expect(await page.getByText('The camera count had').count()).toBe(0)
      expect(await page.locator('.boxes').count()).toBe(0)
      const photos = (await page.getByText('Photo 1 of 2').count()) === 1 ? 2 : 1
      await page.keyboard.press('2')
      await page.keyboard.press('2')
      expect(await page.getByLabel('camels', { exact: true }).textContent()).toBe('2')
      await page.keyboard.press('a')
      // The second photo of a look may be as the one before.
      if (photos === 2) {
        await page.getByText('Photo 2 of 2').waitFor()
        await page.keyboard.press('r')
      }
      await page.getByText('You said: 2 camels.').first().waitFor()
      expect(await page.getByText('The camera count had').count()).toBe(photos)
      await expect.poll(openNow).toBe(left - 1)
      await page.getByRole('button', { name: left > 1 ? 'Next look' : 'Done' }).click()
    }
    await page.getByText('No blind look waits.').waitFor()
  })

  test('a word taken back is asked for again, and said with one tap for all photos', async () => {
    // Photos with a word can't be drawn again, so new ones come for the next draw.
    const { cameras } = (await service.ask('/api/cameras')).json as { cameras: Array<{ id: number }> }
    const key = (await service.send('POST', `/api/cameras/${cameras[0]!.id}/key`, {})).json as { key: string }
    const wren = { id: cameras[0]!.id, pointId: 1, name: 'Wren camera', key: key.key }
    await sendPhotos(service, wren, [
      ['kite-bore-09.jpg', '2026-11-20T08:00:00+10:30'],
      ['kite-bore-03.jpg', '2026-11-20T08:10:00+10:30'],
    ])
    await service.waitUntilRead()
    await service.house.ledger.deleteFrom('audits').execute()
    await drawWeek(service.house.ledger, { week: WEEK, now: service.house.now(), seed: 'another' })
    await open('/blind-look', PHONE)
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
    await page.getByRole('button', { name: 'Nothing in any of the 2 photos' }).click()
    await page.getByText('You said: nothing counted.').first().waitFor()
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
    await page.getByRole('button', { name: 'Take my word back' }).click()
    await page.getByText('Taken back.').waitFor()
    await page.getByText('1 look to go').waitFor()
    await page.getByRole('button', { name: 'Nothing in any of the 2 photos' }).click()
    await expect.poll(openNow).toBe(0)
  })

  test.each([PHONE, DESK])('the page holds up at %i px, with every fold open', async (width) => {
    await open('/how-right', width)
    await page.getByRole('heading', { name: 'Counts, as seen and put right' }).waitFor()
    await page.getByRole('img', { name: 'Is it as right as it is sure?' }).waitFor()
    for (const fold of await page.locator('summary').all()) await fold.click()
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
  })

  test('a mark is moved by keys, says what it would do, and is saved as the station’s own', async () => {
    await open('/how-right')
    await page.getByLabel('Species', { exact: true }).selectOption({ label: 'Goat' })
    const slider = page.getByLabel('Worth a look from')
    await slider.waitFor()
    expect(await slider.getAttribute('aria-valuetext')).toBe('35 %')
    await slider.press('ArrowRight')
    expect(await slider.getAttribute('aria-valuetext')).toBe('40 %')
    await page.getByText(/^Last week: \d+ photos? to look at/).waitFor()
    await page.getByRole('button', { name: 'Save these marks' }).click()
    await expect
      .poll(async () => {
        const { station } = stationAnswer.parse((await service.ask('/api/station')).json)
        return station?.species.find(({ species }) => species === 'goat')?.flagThreshold
      })
      .toBe(0.4)
    await expect.poll(() => slider.getAttribute('aria-valuetext')).toBe('40 %')
  })
})
