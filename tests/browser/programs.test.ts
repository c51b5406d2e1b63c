/** Programs in a real browser: one is made, its list changed and printed, and a link to it opened with nothing else at hand. */
import type { Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest'
import type { ProgramsAnswer, TargetListAnswer } from '../../services/http/program-shapes.ts'
import { programSafety } from '../../web/text/safety.ts'
import { makeProgram } from '../integration/planned-program.ts'
import { everyNights, openProgramStation, type ProgramStation } from '../integration/program-station.ts'
import { faultsOf, NO_FAULTS } from './basics.ts'
import { openBrowser, openPage, type ScreenSize } from './browser.ts'

const PHONE = 390
const DESK = 1280
const START_TIMEOUT_MS = 120_000

const opened = await openBrowser()
const why = 'why' in opened ? ` (skipped: ${opened.why})` : ''

describe.skipIf(why !== '')(`programs${why}`, () => {
  let station: ProgramStation
  let page: Page

  beforeAll(async () => {
    station = await openProgramStation([
      {
        name: 'Often Bore',
        lat: -28.2,
        lon: 134.1,
        hasYard: true,
        came: everyNights(2, { camel: 6, cattle: 3 }),
      },
      { name: 'Seldom Tank', lat: -28.4, lon: 133.8, came: everyNights(5, { camel: 2 }) },
      { name: 'Rare Dam', lat: -28.1, lon: 134.4, came: everyNights(9, { camel: 1, donkey: 2 }) },
      { name: 'Donkey Soak', lat: -28.5, lon: 134.2, came: everyNights(4, { donkey: 2 }) },
    ])
  }, START_TIMEOUT_MS)
  afterAll(async () => {
    if ('browser' in opened) await opened.browser.close()
    await station?.stop()
  })
  afterEach(() => page.context().close())

  async function open(path: string, size: ScreenSize = { width: DESK }): Promise<void> {
    if ('why' in opened) throw new Error(opened.why)
    page = await openPage(opened.browser, size)
    await page.goto(station.service.address + path)
  }
  const listOf = async (id: number) =>
    (await station.service.ask(`/api/programs/${id}/target-list`)).json as TargetListAnswer
  const names = () => page.locator('.target-point h3 a').allTextContents()
  const programNamed = async (name: string) => {
    const { programs } = (await station.service.ask('/api/programs')).json as ProgramsAnswer
    return programs.find((program) => program.name === name)!
  }

  test('without one the screen says how to begin; made, it opens with its list', async () => {
    await open('/', { width: PHONE })
    await page.getByRole('navigation', { name: 'Screens' }).getByRole('link', { name: 'Programs' }).click()
    await page.getByText('No programs yet.').waitFor()
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
    await page.getByRole('button', { name: 'New program' }).click()
    await page.getByLabel('Name', { exact: true }).fill('Camels in summer')
    await page.getByLabel('First night').fill('2026-12-07')
    await page.getByLabel('Last night').fill('2026-12-06')
    await page.getByLabel('Your name').fill('Ash')
    await page.getByRole('button', { name: 'Make the program' }).click()
    await expect.poll(() => page.getByLabel('Last night').getAttribute('aria-invalid')).toBe('true')
    await page.getByLabel('Last night').fill('2026-12-11')
    await page.getByRole('button', { name: 'Make the program' }).click()
    await page.getByRole('heading', { name: 'Camels in summer', level: 1 }).waitFor()
    await page.locator('.target-point').first().waitFor()
    expect(await names()).toEqual(['Often Bore', 'Seldom Tank', 'Rare Dam'])
    expect((await programNamed('Camels in summer')).who).toBe('Ash')
  })

  test('its list is put in order by buttons and by keys, and kept with one press', async () => {
    const { id } = await makeProgram(station.service, { name: 'In order' })
    await open(`/programs/${id}`)
    await page.getByRole('button', { name: 'Often Bore: later' }).click()
    expect(await names()).toEqual(['Seldom Tank', 'Often Bore', 'Rare Dam'])
    // The keyboard stays with the point.
    const focused = () => page.evaluate(() => document.activeElement?.getAttribute('aria-label'))
    await expect.poll(focused).toBe('Often Bore: later')
    await page.keyboard.press('Alt+ArrowDown')
    await page.getByText('Often Bore is now 3 of 3.').waitFor()
    await expect.poll(focused).toBe('Often Bore: earlier')
    expect((await listOf(id)).version).toBe(0)
    await page.getByRole('button', { name: 'Keep this order' }).click()
    await page.getByText('Kept as a new version.').waitFor()
    expect((await listOf(id)).lines.map(({ name }) => name)).toEqual([
      'Seldom Tank',
      'Rare Dam',
      'Often Bore',
    ])
  })

  test('points are taken off and put on, notes are written, and earlier versions stay readable', async () => {
    const { id } = await makeProgram(station.service, { name: 'By hand' })
    await open(`/programs/${id}`, { width: PHONE })
    await page.getByRole('button', { name: 'Take Rare Dam off the list' }).click()
    await expect.poll(names).toEqual(['Often Bore', 'Seldom Tank'])
    await page.getByLabel('Add a point').selectOption({ label: 'Donkey Soak: not seen in 28 nights' })
    await page.getByRole('button', { name: 'Add', exact: true }).click()
    await expect.poll(names).toEqual(['Often Bore', 'Seldom Tank', 'Donkey Soak'])
    await page.getByRole('button', { name: 'Note at Often Bore' }).click()
    await page.getByLabel('Note at Often Bore').getByRole('textbox').fill('key is with the neighbour')
    await page.getByRole('button', { name: 'Save note' }).click()
    await page.locator('.target-point').first().getByText('key is with the neighbour').waitFor()
    await page.getByText('Earlier versions of the list').click()
    await page.getByText('Rare Dam taken off').click()
    await page
      .getByText(/^1 Often Bore: .* head a night/)
      .filter({ visible: true })
      .first()
      .waitFor()
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
  })

  test('who changes a list that somebody has changed since is told, and sees the other’s change', async () => {
    const { id } = await makeProgram(station.service, { name: 'Two at once' })
    await open(`/programs/${id}`)
    await page.locator('.target-point').first().waitFor()
    await station.service.send('POST', `/api/programs/${id}/target-list`, {
      version: 0,
      edit: { kind: 'drop', pointId: station.idOf('Seldom Tank') },
      who: 'Bo',
    })
    await page.getByRole('button', { name: 'Take Rare Dam off the list' }).click()
    await page.getByText('Load the list again: somebody has changed it since.').waitFor()
    await expect.poll(names).toEqual(['Often Bore', 'Rare Dam'])
  })

  test('it prints on one A4 page, with the words of safety and nothing to press', async () => {
    const { id } = await makeProgram(station.service, { name: 'On paper' })
    await open(`/programs/${id}`)
    await page.getByRole('link', { name: 'Print' }).click()
    await page.getByRole('button', { name: 'Print' }).waitFor()
    expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe('Target list: On paper')
    expect(await pagesOf(page)).toBe(1)
    await page.emulateMedia({ media: 'print' })
    expect(await page.locator('a, button').filter({ visible: true }).count()).toBe(0)
    for (const line of programSafety) expect(await page.getByText(line).isVisible()).toBe(true)
    for (const name of ['Often Bore', 'Seldom Tank', 'Rare Dam'])
      expect(await page.getByText(name, { exact: true }).isVisible()).toBe(true)
    await expect
      .poll(() =>
        page
          .locator('img')
          .evaluateAll((all) => all.map((one) => (one as HTMLImageElement).naturalWidth > 0)),
      )
      .toEqual([true, true, true])
  })

  test('a link is made, shown once, and opens the list for whoever has nothing else', async () => {
    const { id } = await makeProgram(station.service, { name: 'Shared' })
    await open(`/programs/${id}`, { width: PHONE })
    await page.getByLabel('For whom').fill('Contractor')
    await page.getByLabel('Ends after').selectOption({ label: '3 days' })
    await page.getByRole('button', { name: 'Make a link' }).click()
    const address = await page.locator('.link-address').textContent()
    expect(address).toMatch(/\/shared\/[\w-]{22}$/)
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
    await page.reload()
    await page.getByText(/^open until Sat 28 Nov, 06:10/).waitFor()
    expect(await page.locator('.link-address').count()).toBe(0)
    await page.context().close()

    page = await openPage((opened as Extract<typeof opened, { browser: unknown }>).browser, {
      width: PHONE,
      scheme: 'dark',
    })
    const asked: string[] = []
    await page.route('**/*', (route) => {
      const path = new URL(route.request().url()).pathname
      asked.push(path)
      return path.startsWith('/shared/') ? route.continue() : route.abort()
    })
    await page.goto(address!)
    await page.getByText('Often Bore', { exact: true }).waitFor()
    for (const line of programSafety) expect(await page.getByText(line).isVisible()).toBe(true)
    expect(await page.locator('a, button, form, script').count()).toBe(0)
    // Browsers ask for an icon of their own accord.
    expect(asked.filter((path) => !path.startsWith('/shared/') && path !== '/favicon.ico')).toEqual([])
    expect(asked.length).toBe(4)
    expect(await faultsOf(page)).toEqual(NO_FAULTS)

    const [link] = (
      (await station.service.ask(`/api/programs/${id}/links`)).json as { links: { id: number }[] }
    ).links
    await station.service.send('POST', `/api/share-links/${link!.id}/end`, {})
    await page.reload()
    await page.getByText('This link ended by hand').waitFor()
    expect(await page.getByText('Often Bore').count()).toBe(0)
  })

  test('how a point is reached is typed in Set-up and stands on the list', async () => {
    const { id } = await makeProgram(station.service, { name: 'Reached' })
    await open('/setup#points', { width: PHONE })
    await page.getByRole('button', { name: /Change.*Often Bore|Often Bore.*change/i }).click()
    await page.getByLabel('Gates').fill('two locked')
    await page.getByRole('button', { name: 'Save the point' }).click()
    await expect
      .poll(async () => (await listOf(id)).lines.find(({ name }) => name === 'Often Bore')!.access?.gates)
      .toBe('two locked')
    await page.goto(`${station.service.address}/programs/${id}`)
    await page.locator('.target-point').first().getByText('Gates: two locked').waitFor()
  })

  test('distances and speed are set in Set-up and make the round', async () => {
    const { id } = await makeProgram(station.service, { name: 'Driven' })
    await open('/setup#tracks', { width: PHONE })
    await page.getByLabel('Speed on tracks, km/h').fill('60')
    await page.getByRole('button', { name: 'Save speed' }).click()
    await page.getByLabel('To', { exact: true }).selectOption({ label: 'Often Bore' })
    await page.getByLabel('Kilometres', { exact: true }).fill('31.5')
    await page.getByRole('button', { name: 'Save this distance' }).click()
    await page.getByText('Homestead to Often Bore: 31.5 km').waitFor()
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
    const { round, driving } = await listOf(id)
    expect([round.legs[0]!.km, round.legs[0]!.straight, driving.kmAnHour]).toEqual([31.5, false, 60])
  })

  test('finished, its list can be read and not changed; taken up again it can', async () => {
    const { id } = await makeProgram(station.service, { name: 'Over' })
    await open(`/programs/${id}`)
    await page.getByText('The plan: change it, finish it, drop it').click()
    await page.getByRole('button', { name: 'Finished' }).click()
    await page.getByRole('button', { name: 'Yes, it is finished' }).click()
    await page.getByText('finished Wed 25 Nov 2026').first().waitFor()
    await page.getByText(/^As it was kept on Wed 25 Nov/).waitFor()
    expect(await page.getByRole('button', { name: /off the list|: later|: earlier/ }).count()).toBe(0)
    await page.getByRole('button', { name: 'Take it up again' }).click()
    await page.getByRole('button', { name: 'Take Rare Dam off the list' }).waitFor()
  })

  test.each([
    { width: PHONE, scheme: 'light' },
    { width: PHONE, scheme: 'dark' },
    { width: DESK, scheme: 'light' },
  ] as const)('both screens hold up at $width px, $scheme', async (size) => {
    const { id } = await makeProgram(station.service, { name: `Held up ${size.width} ${size.scheme}` })
    await open('/programs', size)
    await page
      .getByRole('link', { name: /^Held up/ })
      .first()
      .waitFor()
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
    await page.goto(`${station.service.address}/programs/${id}`)
    await page.locator('.target-point').first().waitFor()
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
  })
})

/** Pages of the PDF that the browser prints: each is an object of its own (PDF 32000-1, section 7.7.3.3). */
async function pagesOf(page: Page): Promise<number> {
  const pdf = await page.pdf({ preferCSSPageSize: true, printBackground: true })
  return pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0
}
