/** Did it work, and muster and drought, in a real browser over an invented station whose answers are known. */
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest'
import type { MusterAnswerShape } from '../../services/http/muster-shapes.ts'
import { type Running, startService } from '../../services/serve.ts'
import { openSmallStation } from '../integration/small-station.ts'
import {
  AFTER,
  BEFORE,
  every,
  LATER,
  type WorkedStation,
  workedStation,
} from '../integration/worked-station.ts'
import { faultsOf, NO_FAULTS } from './basics.ts'
import { openBrowser, openPage, type ScreenSize } from './browser.ts'

const PHONE = 390
const DESK = 1280
const SIZES: readonly ScreenSize[] = [
  { width: 360, scheme: 'light' },
  { width: PHONE, scheme: 'dark' },
  { width: DESK, scheme: 'light' },
  { width: DESK, scheme: 'dark' },
]
const START_TIMEOUT_MS = 200_000

const opened = await openBrowser()
const why = 'why' in opened ? ` (skipped: ${opened.why})` : ''

describe.skipIf(why !== '')(`a program that has been, and a muster${why}`, () => {
  let station: WorkedStation
  let running: Running
  let folder = ''
  let page: Page

  beforeAll(async () => {
    // Begun before there are photos: a service whose photos are nowhere would refuse to.
    const small = await openSmallStation()
    folder = await mkdtemp(join(tmpdir(), 'hooftally-worked-'))
    running = await startService(
      { port: 0, host: '127.0.0.1', dataFolder: folder, databaseUrl: small.url },
      { log: () => undefined, now: () => LATER },
    )
    station = await workedStation(small)
    const { targetId, nearId } = station
    await station.see(targetId, every(1, BEFORE), { camel: 3, cattle: 12 })
    await station.see(targetId, every(7, AFTER), { camel: 2, cattle: 20 })
    await station.see(nearId, every(7, BEFORE))
    await station.see(nearId, every(1, AFTER), { camel: 3, cattle: 8 })
    await station.take([
      { day: '2026-10-20', head: 12 },
      { day: '2026-10-21', head: 6 },
      { day: '2026-10-22', head: 3 },
    ])
  }, START_TIMEOUT_MS)
  afterAll(async () => {
    if ('browser' in opened) await opened.browser.close()
    await running?.stop()
    await station?.close()
    await rm(folder, { recursive: true, force: true })
  })
  afterEach(() => page.context().close())

  async function open(path: string, size: ScreenSize = { width: DESK }): Promise<void> {
    if ('why' in opened) throw new Error(opened.why)
    page = await openPage(opened.browser, size)
    await page.goto(running.address + path)
  }
  const pagesOnPaper = async () => {
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1')
    return [...pdf.matchAll(/\/Type\s*\/Page\b/g)].length
  }
  const muster = async () =>
    (await (await fetch(`${running.address}/api/muster`)).json()) as MusterAnswerShape
  const worked = () => `/programs/${station.programId}/did-it-work`

  describe('did it work', () => {
    test('opens from the program, the verdict first', async () => {
      await open('/programs')
      await page.getByRole('link', { name: /Spring camels/ }).click()
      await page.getByRole('link', { name: 'Did it work' }).click()
      await page.getByText('Fewer camels here, more next door: at Near Tank.').waitFor()
    })

    test('every count opens the photos behind it: the point, the species, the nights', async () => {
      await open(worked())
      const after = page.getByRole('link', { name: 'after, Target Bore: 4 in 28 nights' })
      const href = new URL((await after.getAttribute('href'))!, running.address)
      expect(Object.fromEntries(href.searchParams)).toEqual({
        point: String(station.targetId),
        species: 'camel',
        ...AFTER,
      })
      await after.click()
      await page.locator('.photo-card').first().waitFor()
      expect(await page.locator('.photo-card').count()).toBe(4)
    })

    test('says what was expected, what was taken, and how many there were', async () => {
      await open(worked())
      await page.getByText('21 camels taken: 21 trucked.').waitFor()
      await page.getByText(/^About \d+ camels before the program/).waitFor()
      await page.getByRole('link', { name: 'seven days' }).click()
      await page.getByText(/there are too few rounds/).waitFor()
    })

    test('other nights and other points are compared by hand, and the address keeps them', async () => {
      await open(worked())
      await page.getByText('Change what is compared').click()
      await page.getByLabel('Nights before').fill('14')
      await page.getByRole('checkbox', { name: 'Target Bore' }).uncheck()
      await page.getByRole('checkbox', { name: 'Far Dam' }).check()
      await page.getByRole('button', { name: 'Compare' }).click()
      await page.waitForURL(`**?before=14&after=28&points=${station.farId}`)
      await page.getByText('No clear change of camels here.').waitFor()
    })

    test('a length that is none is refused at its words', async () => {
      await open(`${worked()}?before=0`)
      await page.getByText(/not a whole number of nights from 1 to 182/).waitFor()
    })

    test('on paper stand the verdict, the tables and the safety words, and nothing to press', async () => {
      await open(worked())
      await page.locator('.worked-verdict').waitFor()
      await page.emulateMedia({ media: 'print' })
      expect(await page.getByText('Never close a water before other water').first().isVisible()).toBe(true)
      expect(await page.locator('.worked-verdict').isVisible()).toBe(true)
      expect(await page.locator('.did-it-work button:visible, .worked-choices a:visible').count()).toBe(0)
      expect(await pagesOnPaper()).toBe(1)
    })

    test.each(SIZES)('owes nobody anything at $width $scheme', async (size) => {
      await open(worked(), size)
      await page.locator('.worked-verdict').waitFor()
      await page.getByText('Change what is compared').click()
      await page.getByRole('checkbox', { name: 'Far Dam' }).waitFor()
      expect(await faultsOf(page)).toEqual(NO_FAULTS)
    })
  })

  describe('a muster', () => {
    test('opens from Programs, says that it is arithmetic, and stands on figures that nobody gave', async () => {
      await open('/programs')
      await page.getByRole('link', { name: 'Muster and drought' }).click()
      await page.getByText('is arithmetic, not advice').first().waitFor()
      await page.getByText(/Nobody has given figures yet/).waitFor()
      await page
        .getByText(/^Never Watched|First Bore/)
        .first()
        .waitFor()
    })

    test('with a day to end by has a latest start, kept with who and when', async () => {
      await open('/muster')
      await page.getByRole('button', { name: 'Give the day by which all is to be done.' }).click()
      const endBy = page.getByLabel('All done by the evening of')
      await endBy.fill('2027-01-31')
      await page.getByLabel('Why (kept with the figures)').fill('dry summer')
      await page.getByRole('button', { name: 'Save and work out' }).click()
      await page.getByText(/To be done by the evening of Sun 31 Jan/).waitFor()
      const { version, plan } = await muster()
      expect(version).toMatchObject({ version: 1, note: 'dry summer' })
      expect(plan.latestStart).not.toBeNull()
    })

    test('a wrong figure is refused at its field', async () => {
      await open('/muster')
      await page.getByText('What there is to do it with').click()
      await page.getByLabel('Trucks', { exact: true }).fill('none')
      await page.getByRole('button', { name: 'Save and work out' }).click()
      await page.getByText(/Not a whole number from 1 to 100/).waitFor()
      expect((await muster()).standing).toBe(1)
    })

    test('head by hand, feed and a note are a person’s word on a point', async () => {
      await open('/muster')
      await page.getByRole('button', { name: 'Change the figures of Target Bore' }).click()
      await page.getByLabel('Cattle there by hand, at least').fill('200')
      await page.getByLabel('Dry feed left within a walk, kg, from').fill('40000')
      await page.getByLabel('Note').fill('counted from the air')
      await page.getByRole('button', { name: 'Save and work out' }).last().click()
      await page.getByText('counted from the air').waitFor()
      const { figures, feed } = await muster()
      expect(figures.points).toMatchObject([
        { pointId: station.targetId, head: { low: 200, high: 200 }, feedKg: { low: 40_000, high: 40_000 } },
      ])
      expect(feed.map(({ pointId }) => pointId)).toEqual([station.targetId])
      await page
        .getByRole('cell', { name: /lasts|runs? out/ })
        .first()
        .waitFor()
    })

    test('the order is changed by hand and let go again', async () => {
      await open('/muster')
      const names = () => page.locator('.muster-step h3 a').allTextContents()
      await page.locator('.muster-step h3 a').first().waitFor()
      const before = await names()
      await page.getByRole('button', { name: `Muster ${before[1]} one place earlier` }).click()
      await expect.poll(names).toEqual([before[1], before[0], ...before.slice(2)])
      await page.getByRole('button', { name: 'Order by water again' }).click()
      await expect.poll(names).toEqual(before)
    })

    test('is one sheet on paper, with what it was worked out with and the safety words', async () => {
      await open('/muster')
      await page.locator('.muster-step').first().waitFor()
      await page.emulateMedia({ media: 'print' })
      expect(await page.getByText(/1 truck of 6 decks/).isVisible()).toBe(true)
      expect(await page.getByText(/Time off water counts from the first muster/).isVisible()).toBe(true)
      expect(await page.locator('.muster-figures:visible').count()).toBe(0)
      expect(await pagesOnPaper()).toBe(1)
    })

    test('a point that nobody watched is told apart, and earlier figures open', async () => {
      await open('/muster')
      await page.getByText(/First Bore: not watched/).waitFor()
      await page.getByText('Earlier figures').click()
      await page.getByRole('link', { name: /dry summer/ }).click()
      await page.getByText('See the figures that stand').waitFor()
      expect(await page.getByText('counted from the air').count()).toBe(0)
    })

    test.each(SIZES)('owes nobody anything at $width $scheme', async (size) => {
      await open('/muster', size)
      await page.getByText('What there is to do it with').click()
      await page.getByRole('button', { name: 'Change the figures of Target Bore' }).click()
      await page.getByLabel('Days until the water here is gone').waitFor()
      expect(await faultsOf(page)).toEqual(NO_FAULTS)
    })
  })
})
