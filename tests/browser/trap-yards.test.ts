/** Trap yards in a real browser, over a seeded station that was watched for the last eight weeks. */
import type { Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest'
import type { TrapYardsAnswer, YardPlansAnswer } from '../../services/http/trap-yard-shapes.ts'
import { type Ledger, openLedger } from '../../services/store/open.ts'
import { saveSettings } from '../../services/store/settings.ts'
import { nightOf, nightsOn } from '../../services/tally/nights.ts'
import type { Instant } from '../../services/words.ts'
import { NIGHTS, type SeededWater, seedWaters } from '../integration/seeded-waters.ts'
import { zone } from '../integration/small-station.ts'
import { faultsOf, NO_FAULTS } from './basics.ts'
import { openBrowser, openPage, type ScreenSize } from './browser.ts'
import { startBuiltService } from './service.ts'

const START_TIMEOUT_MS = 180_000
const PHONE = 390
const DESK = 1280
const SEED = 1

const opened = await openBrowser()
const why = 'why' in opened ? ` (skipped: ${opened.why})` : ''

describe.skipIf(why !== '')(`trap yards${why}`, () => {
  let address = ''
  let stop: () => Promise<void> = async () => undefined
  let ledger: Ledger
  let waters: readonly SeededWater[]
  let page: Page

  beforeAll(async () => {
    const service = await startBuiltService('serve')
    address = service.address
    stop = service.stop
    ledger = await openLedger(service.databaseUrl!)
    await saveSettings(
      ledger,
      {
        name: 'Thornbill Plains',
        zone,
        homestead: { lat: -28, lon: 134 },
        visitGapMinutes: 30,
        cattleAwayHours: 72,
        species: [],
      },
      { count: 0.5, flag: 0.35 },
    )
    const firstNight = nightsOn(nightOf(Date.now() as Instant, zone), -NIGHTS)
    waters = await seedWaters({ ledger }, { seed: SEED, firstNight })
  }, START_TIMEOUT_MS)
  afterAll(async () => {
    if ('browser' in opened) await opened.browser.close()
    await ledger?.destroy()
    await stop()
  })
  afterEach(() => page.context().close())

  async function open(path: string, size: ScreenSize = { width: DESK }): Promise<void> {
    if ('why' in opened) throw new Error(opened.why)
    page = await openPage(opened.browser, size)
    await page.goto(address + path)
  }
  const ask = async <T>(path: string) => (await (await fetch(address + path)).json()) as T
  const yards = () => ask<TrapYardsAnswer>('/api/trap-yards?species=camel')
  const plans = async () => (await ask<YardPlansAnswer>('/api/trap-yards/plans')).plans
  /** Of the waters that camels come to, the cluster with the most head. */
  const shared = async () => {
    const { clusters, points } = await yards()
    return clusters[0]!.pointIds.map((id) => points.find(({ pointId }) => pointId === id)!)
  }

  test('it opens from the navigation, and proposes to close nothing before other water is sure', async () => {
    await open('/')
    await page.getByRole('link', { name: 'Trap yards' }).click()
    await page.getByText('Nothing is proposed for closing yet').waitFor()
    expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe('Trap yards')
    await page.getByText('Never close a water before other water').first().waitFor()
    for (const { name } of waters)
      expect(await page.getByRole('checkbox', { name, exact: true }).isChecked()).toBe(false)
  })

  test('the map says in words what it draws', async () => {
    await open('/trap-yards?species=camel')
    const map = page.getByRole('img', { name: /^Map of the \d+ waters of Thornbill Plains/ })
    await map.waitFor()
    const told = await page
      .locator(`[id="${await map.getAttribute('aria-describedby')}"] li`)
      .allTextContents()
    expect(told).toHaveLength(waters.length)
    for (const [i, { name, hasYard, camels }] of waters.entries()) {
      expect(told[i]).toContain(`${name}: ${hasYard ? 'a yard stands' : 'no yard'}`)
      expect(told[i]).toContain(camels.length > 0 ? 'animal-visits a night' : 'watched, none seen')
    }
  })

  test('once the owner says how many yards there are and that other water is sure, it proposes', async () => {
    await open('/trap-yards?species=camel', { width: PHONE })
    await page.getByText('Say how many portable yards there are.').click()
    await page.getByLabel('Portable yards').fill('many')
    await page.getByRole('button', { name: 'Save yards and weeks' }).click()
    await expect.poll(() => page.getByLabel('Portable yards').getAttribute('aria-invalid')).toBe('true')
    await page.getByLabel('Portable yards').fill('6')
    await page.getByRole('button', { name: 'Save yards and weeks' }).click()
    await page.getByText('6 portable yards; gates set for 7 nights').waitFor()
    await page.getByRole('button', { name: 'Confirm other water' }).first().click()
    await page.getByRole('button', { name: 'It is sure' }).click()
    await page.getByText('says no other water').waitFor()
    await page.getByLabel('Other water that is no point').fill('the creek')
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
    await page.getByRole('button', { name: 'It is sure' }).click()
    await page.getByText(/^Set gates at /).waitFor()
    await page.getByText('can be closed whole').waitFor()
    for (const { name } of await shared())
      expect(await page.getByRole('checkbox', { name, exact: true }).isChecked()).toBe(true)
    expect((await yards()).close.clusterIds).toHaveLength(1)
  })

  test('gates put elsewhere by hand say what they meet, what stays open and where the others shift', async () => {
    const [first, ...others] = await shared()
    expect(others.length).toBeGreaterThan(0)
    await open('/trap-yards?species=camel')
    await page.getByText('No water of the cluster is left open').waitFor()
    await page.getByRole('checkbox', { name: first!.name, exact: true }).uncheck()
    await page.getByText(`${first!.name} stays open: animals that balk at a yard move on there.`).waitFor()
    await page.getByText('if each animal keeps to its own water').waitFor()
    await page.getByText(/Not met, and free to shift to other waters: up to/).waitFor()
  })

  test('the hours are worked out, and a person’s own stand over them', async () => {
    await open('/trap-yards?species=camel')
    const when = page.locator('section.hours')
    await when.getByText(/^Set at \d\d:\d\d, shut down at/).waitFor()
    await when.getByText('Cattle came too seldom').waitFor()
    await when.getByLabel('Set at', { exact: true }).selectOption({ label: '01:30' })
    await when.getByLabel('Shut down at', { exact: true }).selectOption({ label: '03:00' })
    await when.getByText('Set at 01:30, shut down at 03:00: 1.5 hours.').waitFor()
    await when.getByText('Your hours.').waitFor()
    expect(await when.locator('.set-days tbody tr').count()).toBe(7)
    await when.getByText(/at least \d+ visits of people to set traps/).waitFor()
  })

  test('the days of open gates begin with the owner’s date where there is one', async () => {
    const yard = (await shared()).find(({ hasYard }) => !hasYard) ?? (await shared())[0]!
    await open('/trap-yards?species=camel', { width: PHONE })
    await page.getByRole('button', { name: `First used on another day: ${yard.name}` }).click()
    await page.getByLabel('First used on', { exact: true }).fill('2026-01-05')
    await page.getByRole('button', { name: 'Save the day' }).click()
    await page.getByText('First used Mon 5 Jan (as said).').waitFor()
    const after = (await yards()).points.find(({ pointId }) => pointId === yard.pointId)!
    expect(after.training).toMatchObject({ firstUsed: { on: '2026-01-05', by: 'said' } })
    expect(after.training.days.at(-1)).toEqual({ on: '2026-02-02', step: 'set the trap' })
  })

  test('a plan is kept, opened, changed as its next version, and withdrawn without being lost', async () => {
    await open('/trap-yards?species=camel')
    await page.getByText('No plan has been kept yet.').waitFor()
    await page.getByRole('button', { name: 'Keep this plan' }).click()
    await expect.poll(() => page.getByLabel('Name of the plan').getAttribute('aria-invalid')).toBe('true')
    await page.getByLabel('Name of the plan').fill('Before the wet')
    await page.getByRole('button', { name: 'Keep this plan' }).click()
    await page.getByText('Saved. Before the wet').waitFor()
    await page.getByRole('link', { name: 'Change Before the wet' }).click()
    await page.getByLabel('Nights', { exact: true }).fill('9')
    await page.getByRole('button', { name: 'Keep as version 2' }).click()
    await page.getByText('for 9 nights').waitFor()
    const [kept] = await plans()
    expect(kept).toMatchObject({ version: 2, plan: { name: 'Before the wet', nights: 9 } })
    await page.getByRole('link', { name: 'Open Before the wet' }).click()
    await page.getByRole('heading', { name: 'Before the wet', level: 1 }).waitFor()
    await page.getByRole('link', { name: /^Version 1,/ }).click()
    await page.getByText('for 7 nights').first().waitFor()
    await page.goto(`${address}/trap-yards?species=camel`)
    await page.getByRole('button', { name: 'Withdraw the plan Before the wet' }).click()
    await page.getByRole('button', { name: 'Withdraw it' }).click()
    await page.getByText('No plan has been kept yet.').waitFor()
    await page.goto(`${address}/trap-yards/plans/${kept!.planId}`)
    await page.getByText('Withdrawn: this plan is on no list any more.').waitFor()
  })

  test('a plan’s page prints on one page, with nothing to press and the words of safety', async () => {
    await open('/trap-yards?species=camel')
    await page.getByLabel('Name of the plan').fill('On paper')
    await page.getByRole('button', { name: 'Keep this plan' }).click()
    await page.getByRole('link', { name: 'Open On paper' }).click()
    await page.locator('.set-days').nth(1).waitFor()
    await page.emulateMedia({ media: 'print' })
    expect(await page.getByRole('button').filter({ visible: true }).count()).toBe(0)
    for (const words of [
      'Never close a water',
      'Visit a set trap at least daily',
      'Feral does not mean ownerless',
    ])
      await page.getByText(words).first().waitFor()
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1')
    expect(pdf.match(/\/Type\s*\/Page\b/g)).toHaveLength(1)
  })

  test('the word on other water is taken back, and the proposal goes with it', async () => {
    await open('/trap-yards?species=camel', { width: PHONE })
    await page.getByRole('button', { name: /^Take back the word on other water for/ }).click()
    await page.getByText('The word on other water was taken back for').first().waitFor()
    expect((await yards()).close.clusterIds).toEqual([])
    await page.goto(`${address}/trap-yards/plans/${(await plans())[0]!.planId}`)
    await page.getByText('Other water is not sure any more for').waitFor()
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
  })

  test.each([
    { width: 360, scheme: 'light' },
    { width: PHONE, scheme: 'dark' },
    { width: DESK, scheme: 'light' },
  ] as const)('the page holds up at $width px, $scheme', async (size) => {
    await open('/trap-yards?species=camel', size)
    await page.locator('.yard-map svg').first().waitFor()
    await page.getByText('Yards and weeks').click()
    await page.getByRole('checkbox', { name: waters[0]!.name, exact: true }).check()
    await page.getByText(/at least \d+ visits of people to set traps/).waitFor()
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
  })

  test('a station without points says what to do first', async () => {
    await open('/trap-yards')
    await page.route('**/api/trap-yards', async (route) => {
      const answer = await yards()
      await route.fulfill({ json: { ...answer, points: [], clusters: [] } })
    })
    await page.reload()
    await page.getByText('No points yet.').waitFor()
  })
})
