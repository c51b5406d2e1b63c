/** Grazing pressure, its ratings and the alarm of cattle not in to water, in a real browser over the demo station. */
import type { Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest'
import type { PressureAnswer, RatingAnswer } from '../../services/http/pressure-shapes.ts'
import type { StillPage } from '../../services/http/shapes.ts'
import { faultsOf, NO_FAULTS } from './basics.ts'
import { openBrowser, openPage, type ScreenSize } from './browser.ts'
import { startBuiltService, untilRead } from './service.ts'

/** A Wednesday: the last week that is over ended two days before. */
const NOW = '2026-11-25T06:10:00+10:30'
const NIGHTS = 9
const START_TIMEOUT_MS = 400_000
const PHONE = 390
const DESK = 1280

const opened = await openBrowser()
const why = 'why' in opened ? ` (skipped: ${opened.why})` : ''

describe.skipIf(why !== '')(`grazing pressure${why}`, () => {
  let address = ''
  let stop: () => Promise<void> = async () => undefined
  let page: Page

  beforeAll(async () => {
    const service = await startBuiltService('demo', ['--nights', String(NIGHTS), '--seed', '1', '--now', NOW])
    address = service.address
    stop = service.stop
    await untilRead(address)
  }, START_TIMEOUT_MS)
  afterAll(async () => {
    if ('browser' in opened) await opened.browser.close()
    await stop()
  })
  afterEach(() => page.context().close())

  async function open(path: string, size: ScreenSize = { width: DESK }): Promise<void> {
    if ('why' in opened) throw new Error(opened.why)
    page = await openPage(opened.browser, size)
    await page.goto(address + path)
  }
  async function ask<T>(path: string): Promise<T> {
    return (await (await fetch(address + path)).json()) as T
  }
  const week = () => ask<PressureAnswer>('/api/pressure')

  test('it opens from the navigation on the last week that is over, what changed first', async () => {
    await open('/')
    await page.getByRole('link', { name: 'Grazing pressure' }).click()
    await page.getByText('Week 47 of 2026').waitFor()
    expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe('Grazing pressure')
    expect(await page.getByRole('heading', { level: 2 }).first().textContent()).toBe('What changed')
  })

  test('its table says what the service answers, point by species', async () => {
    const { points, rows } = await week()
    await open('/pressure')
    await page.locator('.matrix').waitFor()
    const names = await page.locator('.matrix tbody th').allTextContents()
    expect(names).toEqual(points.map(({ name }) => name))
    const shown = await page.locator('.matrix-visits').allTextContents()
    const inOrder = points.flatMap(({ pointId, watchedNights }) =>
      watchedNights === 0
        ? []
        : rows.filter((row) => row.pointId === pointId).map(({ visits }) => String(visits)),
    )
    expect(shown).toEqual(inOrder)
  })

  test('a number opens the photos behind it, of that species in that week', async () => {
    const { rows, points, from, to } = await week()
    const row = rows.find(({ species, visits }) => species === 'camel' && visits > 0)!
    const name = points.find(({ pointId }) => pointId === row.pointId)!.name
    await open('/pressure')
    await page.getByRole('link', { name: new RegExp(`of camels at ${name}:`) }).click()
    await page.locator('.photo-card').first().waitFor()
    const { stills } = await ask<StillPage>(
      `/api/stills?point=${row.pointId}&species=camel&from=${from}&to=${to}&limit=200`,
    )
    expect(stills.length).toBeGreaterThanOrEqual(row.visits)
    expect(await page.locator('.photo-card').count()).toBe(stills.length)
    expect(await page.getByRole('heading', { level: 1 }).textContent()).toContain('noon Mon 16 Nov')
  })

  test('nights that nobody watched are hatched and said, never empty', async () => {
    const { points } = await week()
    const blind = points.flatMap(({ watchedByNight }) => watchedByNight.filter((part) => part === 0)).length
    expect(blind).toBeGreaterThan(0)
    await open('/pressure')
    await page.locator('.week-nights').waitFor()
    expect(await page.locator('.week-nights td.blind').count()).toBe(blind)
    expect(await page.locator('.week-nights td.blind').first().textContent()).toBe('not watched')
  })

  test('another species is shown in full, and the week stays', async () => {
    await open('/pressure?week=2026-W48')
    await page.getByText('Week 48 of 2026').waitFor()
    await page.getByRole('link', { name: 'Cattle', exact: true }).click()
    await page.getByRole('heading', { name: 'Night by night: visits of cattle' }).waitFor()
    await page.getByText('Week 48 of 2026').waitFor()
    await page.getByRole('link', { name: 'Earlier week' }).click()
    await page.getByText('Week 47 of 2026').waitFor()
  })

  test('the hours are drawn, or it says that there are too few visits', async () => {
    await open('/pressure?species=cattle')
    const hours = page.locator('.hours')
    await hours.getByText(/watched\. Sunrise about/).waitFor()
    const { curve } = await ask<{ curve: { clock: number[] | null } }>(
      `/api/when-they-come?point=${await hours.getByLabel('Point').inputValue()}&species=cattle&to=2026-11-22`,
    )
    if (curve.clock === null) await hours.getByText(/too few to show hours/).waitFor()
    else await hours.locator('.chart svg').waitFor()
  })

  test('on paper there is nothing to press, and the words of safety are there', async () => {
    await open('/pressure', { width: DESK, scheme: 'dark' })
    await page.locator('.matrix').waitFor()
    await page.emulateMedia({ media: 'print' })
    expect(await page.getByRole('button').filter({ visible: true }).count()).toBe(0)
    expect(await page.getByRole('navigation', { name: 'Screens' }).isVisible()).toBe(false)
    await page.getByText('least number seen').first().waitFor()
    await page.getByText('Never close a water').waitFor()
    const colours = await page.evaluate(() => {
      const { backgroundColor, color } = getComputedStyle(document.body)
      return [backgroundColor, color]
    })
    expect(colours).toEqual(['rgb(255, 255, 255)', 'rgb(0, 0, 0)'])
  })

  test.each([
    { width: PHONE, scheme: 'light' },
    { width: PHONE, scheme: 'dark' },
    { width: DESK, scheme: 'light' },
  ] as const)('the page holds up at $width px, $scheme', async (size) => {
    await open('/pressure', size)
    await page.locator('.matrix').waitFor()
    await page
      .locator('.hours')
      .getByText(/nights? watched\./)
      .waitFor()
    await page.getByText('All numbers of').click()
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
  })

  test('a rating that the owner sets is used and marked as theirs; emptied, the usual one is back', async () => {
    const litres = async () =>
      (await ask<{ ratings: RatingAnswer[] }>('/api/ratings')).ratings.find(
        ({ species, kind }) => species === 'camel' && kind === 'litres',
      )!
    const usual = await litres()
    await open('/setup#ratings', { width: PHONE })
    const camel = page.getByRole('group', { name: 'Camel' }).getByRole('group', { name: /Litres a day/ })
    await camel.getByText('from memory, check locally').waitFor()
    await camel.getByLabel('from', { exact: true }).fill('12')
    await camel.getByLabel('to', { exact: true }).fill('11')
    await page.getByRole('button', { name: 'Save ratings' }).click()
    await expect.poll(() => camel.getByLabel('to', { exact: true }).getAttribute('aria-invalid')).toBe('true')
    await camel.getByLabel('to', { exact: true }).fill('14')
    await page.getByRole('button', { name: 'Save ratings' }).click()
    await camel.getByText('your own').waitFor()
    expect(await litres()).toMatchObject({ low: 12, high: 14, source: 'Set on this station', own: true })
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
    await camel.getByLabel('from', { exact: true }).fill('')
    await camel.getByLabel('to', { exact: true }).fill('')
    await page.getByRole('button', { name: 'Save ratings' }).click()
    await camel.getByText('from memory, check locally').waitFor()
    expect(await litres()).toEqual(usual)
  })

  test('an alarm says how it was reached, and can be called normal', async () => {
    await open('/', { width: PHONE })
    // In the demo its cattle are gone for the last four days.
    const row = page.locator('.point-row', { has: page.getByRole('link', { name: 'Windlass Well' }) })
    await row.getByText(/^Away \d+ (h|days); .*holds\./).waitFor()
    await row.getByRole('link', { name: 'Windlass Well' }).click()
    await page.getByRole('button', { name: 'That is normal here' }).click()
    await page.getByText('Saved: Held as normal here.').waitFor()
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
  })
})
