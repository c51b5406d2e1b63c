/** The screens over the demo station, in a real browser against the built service. */
import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest'
import type { CheckCardsAnswer, Still, StillAnswer, WaterRunAnswer } from '../../services/http/shapes.ts'
import { projectFolder } from '../../services/paths.ts'
import { faultsOf, NO_FAULTS } from './basics.ts'
import { openBrowser, openPage, type ScreenSize } from './browser.ts'
import { startBuiltService, untilRead } from './service.ts'

/** A Wednesday morning, station time; the demo's past is made for the nights before it. */
const NOW = '2026-11-25T06:10:00+10:30'
const NIGHTS = 6
/** Starting, and reading the past of those nights, on a machine that does other work as well. */
const START_TIMEOUT_MS = 400_000
const POINTS_IN_RUN_ORDER = 10
const PHONE = 390
const DESK = 1280

const opened = await openBrowser()
const why = 'why' in opened ? ` (skipped: ${opened.why})` : ''

describe.skipIf(why !== '')(`the demo station on screen${why}`, () => {
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

  async function open(path: string, size: ScreenSize = { width: PHONE }): Promise<Page> {
    if ('why' in opened) throw new Error(opened.why)
    page = await openPage(opened.browser, size)
    await page.goto(address + path)
    return page
  }

  async function ask<T>(path: string): Promise<T> {
    return (await (await fetch(address + path)).json()) as T
  }

  async function pointCalled(name: string): Promise<number> {
    const { rows } = await ask<WaterRunAnswer>('/api/water-run')
    const row = rows.find(({ point }) => point.name === name)
    if (row === undefined) throw new Error(`no point called ${name}`)
    return row.point.id
  }

  /** A photo on which the models counted something, the latest one. */
  async function countedPhoto(): Promise<Still> {
    const { stills } = await ask<{ stills: Still[] }>('/api/stills?state=done&limit=100')
    const still = stills.find(({ boxes, check }) => boxes.some((box) => box.counted) && check === null)
    if (still === undefined) throw new Error('the demo holds no photo with a counted animal')
    return still
  }

  const rowOf = (name: string) => page.locator('.point-row', { has: page.getByRole('link', { name }) })

  describe('Water run', () => {
    test('it opens first and shows every point in run order', async () => {
      await open('/')
      await page
        .locator('.point-row')
        .nth(POINTS_IN_RUN_ORDER - 1)
        .waitFor()
      const names = await page.locator('.point-link').allTextContents()
      const { rows } = await ask<WaterRunAnswer>('/api/water-run')
      expect(names).toEqual(rows.map(({ point }) => point.name))
      expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe('Water run')
    })

    test('its head line counts the points watched and names what needs a look, worst first', async () => {
      await open('/')
      await page.locator('#morning').waitFor()
      expect(await page.locator('#morning').textContent()).toMatch(/^(All 10|\d of 10) points watched\. /)
      // The demo's Lantern Bore reads 31 per cent at its latest level, under the mark of 40.
      await page.getByRole('link', { name: 'Water low at Lantern Bore' }).waitFor()
    })

    test('water nobody has looked at is "not seen", never dressed as good', async () => {
      await open('/')
      // Nobody taps Ironbark Dam's water in the demo.
      const chip = rowOf('Ironbark Dam').locator('.water-chip')
      await chip.waitFor()
      expect(await chip.textContent()).toContain('Water not seen')
      expect(await chip.getAttribute('class')).toContain('fact-unknown')
    })

    test('one tap says the water is low, and it stays after loading again', async () => {
      await open('/')
      const chip = rowOf('Galah Well').locator('.water-chip')
      await chip.click()
      await rowOf('Galah Well').getByRole('button', { name: 'Low' }).click()
      await page.getByText('Water low at Galah Well', { exact: true }).first().waitFor()
      await page.reload()
      await chip.getByText('Water low').waitFor()
      // A later word replaces it.
      await chip.click()
      await rowOf('Galah Well').getByRole('button', { name: 'Good' }).click()
      await chip.getByText('Water good').waitFor()
    })

    test('the number of feral visits opens the photos behind it', async () => {
      await open('/')
      const { rows, night } = await ask<WaterRunAnswer>('/api/water-run')
      const row = rows.find(({ feral }) => feral.length > 0)
      const [seen] = row?.feral ?? []
      if (row === undefined || seen === undefined) throw new Error(`no feral visits in the night ${night}`)
      await rowOf(row.point.name)
        .getByRole('link', { name: new RegExp(`${seen.species} visit`) })
        .click()
      await page.locator('.photo-card').first().waitFor()
      const words = await page.locator('.photo-line:last-child').allTextContents()
      for (const line of words) expect(line).toContain(seen.species)
    })

    test('earlier nights can be opened, and the latest again', async () => {
      await open('/')
      const latest = await page.locator('.night-picker strong').textContent()
      await page.getByRole('link', { name: 'Earlier night' }).click()
      await page.waitForURL(/night=/)
      await expect.poll(() => page.locator('.night-picker strong').textContent()).not.toBe(latest)
      await page.getByRole('link', { name: 'Later night' }).click()
      await expect.poll(() => page.locator('.night-picker strong').textContent()).toBe(latest)
    })

    test('when the service is gone it says so and what to do, and comes back by itself', async () => {
      await open('/')
      await page.locator('.point-row').first().waitFor()
      await page.route('**/api/water-run*', (route) => route.abort())
      await page.getByRole('link', { name: 'Earlier night' }).click()
      await page.getByText('Hooftally does not answer.').waitFor()
      await page.unroute('**/api/water-run*')
      await page.getByRole('button', { name: 'Try again' }).click()
      await page.locator('.point-row').first().waitFor()
      expect(await page.getByText('Hooftally does not answer.').count()).toBe(0)
    })
  })

  describe("A point's page", () => {
    test('the film strip holds every hour of the last day, whatever came', async () => {
      await open(`/points/${await pointCalled('Kite Bore')}`)
      await page.locator('.film-strip .hour').first().waitFor()
      expect(await page.locator('.film-strip .hour').count()).toBe(24)
    })

    test('nights are bars by species, and a night nobody watched is marked, not drawn as zero', async () => {
      // Pigeon Soak's camera was down on the third and fourth nights back in the demo.
      await open(`/points/${await pointCalled('Pigeon Soak')}`)
      await page.locator('.night-table .bar').first().waitFor()
      const cells = page.locator('.night-table tbody tr').first().locator('td')
      const links = await page.locator('.night-link').all()
      const names = await Promise.all(links.map((link) => link.getAttribute('aria-label')))
      const cellOf = (night: string) => cells.nth(names.indexOf(`Show the night ${night}`))
      for (const night of ['Fri 20 to Sat 21 Nov', 'Sat 21 to Sun 22 Nov']) {
        expect(await cellOf(night).getAttribute('class')).toContain('blind')
        expect(await cellOf(night).textContent()).toContain('not watched')
      }
      expect(await cellOf('Sun 22 to Mon 23 Nov').getAttribute('class')).not.toContain('blind')
      expect(await page.locator('.night-table td.blind .bar').count()).toBe(0)
    })

    test('a night opens its visits and photos below the bars', async () => {
      await open(`/points/${await pointCalled('Kite Bore')}`)
      await page.locator('.night-link').first().waitFor()
      const links = page.locator('.night-link')
      const wanted = links.nth((await links.count()) - 2)
      const name = (await wanted.getAttribute('aria-label'))?.replace('Show the night ', '')
      await wanted.click()
      await expect.poll(() => page.locator('.one-night h3').textContent()).toBe(name)
    })

    test('a trap is said to be set only after the words on what that asks for', async () => {
      const id = await pointCalled('Snakewood Bore')
      await open(`/points/${id}`)
      await page.getByRole('button', { name: 'Trap set' }).click()
      await page.getByText('A look through a camera is not a visit', { exact: false }).waitFor()
      expect((await ask<{ row: { trap: unknown } }>(`/api/points/${id}`)).row.trap).toBeNull()
      await page.getByRole('button', { name: 'Yes, the trap is set' }).click()
      await page.getByText('Trap set, visited just now', { exact: false }).waitFor()
      await page.getByRole('link', { name: 'Water run' }).first().click()
      await page.getByRole('link', { name: /^Trap set at Snakewood Bore: visit by / }).waitFor()
      await open(`/points/${id}`)
      await page.getByRole('button', { name: 'Shut down' }).click()
      await page.getByText('Trap shut down', { exact: true }).first().waitFor()
    })

    test('a point that is not there gets words and a remedy', async () => {
      await open('/points/4711')
      await page.getByRole('alert').waitFor()
      expect((await page.getByRole('alert').textContent())?.length).toBeGreaterThan(20)
    })
  })

  describe('A photo', () => {
    test('boxes are drawn with their species in words, can be switched off, and stay off', async () => {
      const still = await countedPhoto()
      await open(`/photos/${still.id}`)
      await page.locator('.box').first().waitFor()
      expect(await page.locator('.box').count()).toBe(still.boxes.length)
      const labels = await page.locator('.box-label').allTextContents()
      // Boxes close together share a label; no species goes without one.
      const named = new Set(labels.map((label) => label.replace('?', '')))
      expect(named).toEqual(new Set(still.boxes.map(({ species }) => species)))
      await page.getByRole('switch', { name: 'Boxes' }).click()
      expect(await page.locator('.box').count()).toBe(0)
      await page.reload()
      await page.locator('.large-photo img').waitFor()
      expect(await page.locator('.box').count()).toBe(0)
    })

    test('a count put right stands after loading again, beside what the camera counted', async () => {
      const still = await countedPhoto()
      await open(`/photos/${still.id}`)
      await page.getByRole('button', { name: 'Correct the count' }).click()
      for (let press = 0; press < 7; press += 1)
        await page.getByRole('button', { name: 'One goat more' }).click()
      await page.getByRole('button', { name: 'Save this count' }).click()
      await page.getByText(/What stands:.*7|What stands:.*goats/).waitFor()
      await page.reload()
      await page.getByRole('heading', { name: /What stands:.*goats/ }).waitFor()
      const served = async () => (await ask<StillAnswer>(`/api/stills/${still.id}`)).still
      // The page shows a word before the service has it.
      await expect.poll(async () => (await served()).tally.goat).toBe((still.tally.goat ?? 0) + 7)
      expect((await served()).machineTally).toEqual(still.machineTally)
      await page.getByRole('button', { name: 'Take my word back' }).click()
      await page.getByRole('heading', { name: /Camera count/ }).waitFor()
    })

    test('the clock on screen is the station’s, not the browser’s', async () => {
      const still = await countedPhoto()
      await open(`/photos/${still.id}`)
      const heading = page.getByRole('heading', { level: 1 })
      await heading.getByText(still.pointName).waitFor()
      expect(await heading.textContent()).toContain(still.takenAt.slice(11, 16))
    })
  })

  describe('Photos to check', () => {
    const cards = () => page.locator('.check-card')

    async function nightWithCards(): Promise<string> {
      const { night } = await ask<WaterRunAnswer>('/api/water-run')
      for (let back = 0; back < NIGHTS; back += 1) {
        const date = new Date(Date.parse(night) - back * 86_400_000).toISOString().slice(0, 10)
        const { cards: found } = await ask<CheckCardsAnswer>(`/api/checks/cards?night=${date}`)
        if (found.filter((card) => !card.checked).length >= 3) return date
      }
      throw new Error('no night of the demo has three cards to check')
    }

    const served = async (night: string, key: string) => {
      const { cards: found } = await ask<CheckCardsAnswer>(`/api/checks/cards?night=${night}`)
      return found.find((card) => card.key === key)
    }

    test('agree by keyboard moves to the next card, undo brings the word back', async () => {
      const night = await nightWithCards()
      await open(`/check?night=${night}`, { width: DESK })
      const active = page.locator('.check-card-active')
      await active.waitFor()
      const key = (await active.getAttribute('id'))?.replace('card-', '') ?? ''
      const bar = page.locator('.check-bar strong')
      const before = await bar.textContent()
      await page.keyboard.press('a')
      await expect.poll(async () => (await served(night, key))?.checked).toBe(true)
      await expect.poll(() => bar.textContent()).not.toBe(before)
      expect(await active.getAttribute('id')).not.toBe(`card-${key}`)
      await page.keyboard.press('u')
      await expect.poll(async () => (await served(night, key))?.checked).toBe(false)
      await expect.poll(() => bar.textContent()).toBe(before)
      expect(await active.getAttribute('id')).toBe(`card-${key}`)
    })

    test('one more, twice, then undo twice: the service follows every step', async () => {
      const night = await nightWithCards()
      await open(`/check?night=${night}`)
      const card = cards().first()
      await card.waitFor()
      const key = (await card.getAttribute('id'))?.replace('card-', '') ?? ''
      const more = card.getByRole('button', { name: /^One .* more/ })
      const species = /^One (\w+) more/.exec((await more.textContent()) ?? '')?.[1] ?? ''
      const head = async () => {
        const found = await served(night, key)
        return (found?.peaks as Record<string, number> | undefined)?.[species] ?? 0
      }
      const before = await head()
      await more.click()
      await expect.poll(head).toBe(before + 1)
      await more.click()
      await expect.poll(head).toBe(before + 2)
      await page.getByRole('button', { name: 'Undo' }).click()
      await expect.poll(head).toBe(before + 1)
      await page.getByRole('button', { name: 'Undo' }).click()
      await expect.poll(head).toBe(before)
    })

    test('a species put right is put right on every photo of the card', async () => {
      const night = await nightWithCards()
      await open(`/check?night=${night}`)
      const card = cards().first()
      await card.waitFor()
      const key = (await card.getAttribute('id'))?.replace('card-', '') ?? ''
      await card.getByRole('button', { name: 'Species' }).click()
      await card.getByRole('button', { name: /^goats/ }).click()
      await expect.poll(async () => (await served(night, key))?.peaks.goat ?? 0).toBeGreaterThan(0)
      await page.getByRole('button', { name: 'Undo' }).click()
      await expect.poll(async () => (await served(night, key))?.checked).toBe(false)
    })

    test('with the link down words are kept, said to wait, and sent once it is back', async () => {
      const night = await nightWithCards()
      await open(`/check?night=${night}`)
      const card = cards().first()
      await card.waitFor()
      const key = (await card.getAttribute('id'))?.replace('card-', '') ?? ''
      await page.route('**/api/checks', (route) => route.abort())
      await card.getByRole('button', { name: 'Nothing there' }).first().click()
      await page.getByText('not sent yet', { exact: false }).waitFor()
      expect((await served(night, key))?.checked).toBe(false)
      await page.unroute('**/api/checks')
      await page.getByRole('button', { name: 'Send now' }).click()
      await expect.poll(async () => (await served(night, key))?.checked).toBe(true)
      await expect.poll(() => page.getByText('not sent yet', { exact: false }).count()).toBe(0)
      await page.getByRole('button', { name: 'Undo' }).click()
      await expect.poll(async () => (await served(night, key))?.checked).toBe(false)
    })

    test('a night with nothing to check says so and what would wait here', async () => {
      await open('/check?night=2026-01-01')
      await page.getByText('Nothing to check this night.').waitFor()
    })
  })

  describe('Set-up', () => {
    const CONTENTS = [
      'Points',
      'Cameras',
      'Speed and distances',
      'Photos by mail',
      'Species',
      'What animals drink and eat',
      'Set traps',
      'How right the count is',
      'This station’s own animals',
      'Station',
      'Past counts',
      'Keeping photos',
      'How much is taken',
      'Look at old photos again',
      'Health',
      'Machines that look at photos',
    ]
    const openSetup = async (path = '/setup') => {
      await open(path)
      await page.locator('main .about').first().waitFor()
      await page.getByRole('button', { name: 'Change the camera Kite Bore' }).waitFor()
    }

    test('its parts are listed at the top in the order in which they stand', async () => {
      await openSetup()
      const links = page.getByRole('navigation', { name: 'Parts of Set-up' }).getByRole('link')
      expect(await links.allTextContents()).toEqual(CONTENTS)
      expect(await page.locator('main section h3').allTextContents()).toEqual(CONTENTS)
    })

    test('headings go down one step at a time', async () => {
      await openSetup()
      for (const fold of await page.locator('summary').all()) await fold.click()
      const levels = await page.evaluate(() =>
        [...document.querySelectorAll('main :is(h1, h2, h3, h4)')].map(({ tagName }) => Number(tagName[1])),
      )
      expect(levels[0]).toBe(1)
      for (const [at, level] of levels.entries()) expect(level - (levels[at - 1] ?? 0)).toBeLessThan(2)
    })

    test('what few need is folded until its link in the list opens it', async () => {
      await openSetup()
      const part = page.getByRole('region', { name: 'Machines that look at photos' })
      const inside = part.getByText('looks at its photos on its own computer', { exact: false })
      expect(await inside.count()).toBe(0)
      await page.getByRole('link', { name: 'Machines that look at photos' }).click()
      await inside.waitFor()
    })

    test('an address that names a folded part opens it', async () => {
      await openSetup('/setup#keeping')
      await page.getByLabel('Days after they came in').waitFor()
    })

    test('with every part open: names, room for a thumb, no sideways scroll', async () => {
      await openSetup()
      for (const fold of await page.locator('summary').all()) await fold.click()
      await page.getByRole('button', { name: 'Change the camera Kite Bore' }).click()
      await page.getByRole('button', { name: 'Add a point' }).click()
      await page.getByLabel('Days after they came in').waitFor()
      expect(await faultsOf(page)).toEqual(NO_FAULTS)
    })

    test('by keyboard: a form opened takes it, and closed gives it back to the button', async () => {
      await openSetup()
      const focused = () => page.evaluate(() => document.activeElement?.getAttribute('aria-label'))
      await page.getByRole('button', { name: 'Change the camera Kite Bore' }).press('Enter')
      await expect.poll(focused).toBe('Kite Bore')
      await page.getByRole('button', { name: 'New key: Kite Bore' }).press('Enter')
      await expect.poll(() => page.evaluate(() => document.activeElement?.className)).toBe('sure')
      await page.getByRole('alert').getByRole('button', { name: 'Cancel' }).press('Enter')
      await expect.poll(focused).toBe('New key: Kite Bore')
      await page.getByRole('button', { name: 'Cancel' }).press('Enter')
      await expect.poll(focused).toBe('Change the camera Kite Bore')
    })

    test('how sure a count must be stands in per cent; a look mark above the count is refused at its field', async () => {
      await openSetup('/setup#species')
      const look = page.getByLabel('Worth a look from (% sure)').first()
      await look.fill('90')
      await page.getByRole('button', { name: 'Save species' }).click()
      await expect.poll(() => look.getAttribute('aria-invalid')).toBe('true')
      await look.fill('30')
      await page.getByRole('button', { name: 'Save species' }).click()
      await page.getByRole('region', { name: 'Species' }).getByText('Saved.').waitFor()
      const { station } = await ask<{ station: { species: { flagThreshold: number }[] } }>('/api/station')
      expect(station.species[0]?.flagThreshold).toBe(0.3)
    })
  })

  describe('for everyone', () => {
    const SCREENS = ['/', '/check', '/setup', '/photos'] as const

    test.each(SCREENS)('%s: names, one h1, room for a thumb, no sideways scroll', async (path) => {
      await open(path)
      await page.locator('main .honesty, main .about').first().waitFor()
      expect(await faultsOf(page)).toEqual(NO_FAULTS)
    })

    test("a point's page and a photo's: the same", async () => {
      await open(`/points/${await pointCalled('Kite Bore')}`)
      await page.locator('.night-table').waitFor()
      await page.locator('.film-strip').waitFor()
      expect(await faultsOf(page)).toEqual(NO_FAULTS)
      await page.goto(`${address}/photos/${(await countedPhoto()).id}`)
      await page.locator('.count-form').waitFor()
      expect(await faultsOf(page)).toEqual(NO_FAULTS)
    })

    test.each([...SCREENS, 'point', 'photo'])('%s: no word of the machine', async (screen) => {
      const path =
        screen === 'point'
          ? `/points/${await pointCalled('Kite Bore')}`
          : screen === 'photo'
            ? `/photos/${(await countedPhoto()).id}`
            : screen
      await open(path)
      await page.locator('main .honesty, main .about').first().waitFor()
      for (const fold of await page.locator('summary').all()) await fold.click()
      await page.waitForLoadState('networkidle')
      const words = await page.locator('body').textContent()
      expect(words?.length).toBeGreaterThan(100)
      expect(words).not.toMatch(
        /detector|namer|deployment|\bworkers?\b(?!\.md)|queue|redis|\bS3\b|re-run|threshold/i,
      )
    })

    test('by keyboard alone: skip the head, open a point, land on its heading', async () => {
      await open('/')
      await page.locator('.point-row').first().waitFor()
      await page.keyboard.press('Tab')
      expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Skip to the page')
      await page.keyboard.press('Enter')
      await page.locator('.point-link').first().focus()
      const name = await page.evaluate(() => document.activeElement?.textContent)
      await page.keyboard.press('Enter')
      await expect.poll(() => page.evaluate(() => document.activeElement?.tagName)).toBe('H1')
      await page.getByRole('heading', { level: 1, name: name ?? '' }).waitFor()
      await page.getByRole('link', { name: 'Water run' }).first().focus()
    })

    test('dark where the phone is dark; a tap makes it light, and it stays light', async () => {
      await open('/', { width: PHONE, scheme: 'dark' })
      const ground = () => page.evaluate(() => getComputedStyle(document.body).backgroundColor)
      await page.locator('.point-row').first().waitFor()
      const dark = await ground()
      await page.getByRole('button', { name: 'Change to the light look' }).click()
      const light = await ground()
      expect(light).not.toBe(dark)
      await page.reload()
      expect(await ground()).toBe(light)
    })

    test('only screens that are there have a tab', async () => {
      await open('/')
      await page.locator('.tabs a').first().waitFor()
      for (const tab of await page.locator('.tabs a').all()) {
        await tab.click()
        await expect.poll(() => tab.getAttribute('aria-current')).toBe('page')
        expect(await page.getByText('There is no such page.').count()).toBe(0)
      }
    })

    test('pictures of the screens, to be looked at', async () => {
      const folder = join(projectFolder, 'tests', 'browser', 'shots')
      mkdirSync(folder, { recursive: true })
      const point = `/points/${await pointCalled('Kite Bore')}`
      for (const [name, path, ready] of [
        ['water-run', '/', '.point-row img'],
        ['point', point, '.night-table'],
        ['check', '/check', 'main .honesty, main .notice'],
      ] as const) {
        for (const width of [PHONE, DESK]) {
          await open(path, { width })
          await page.locator(ready).first().waitFor()
          await page.waitForLoadState('networkidle')
          const shot = await page.screenshot({ path: join(folder, `${name}-${width}.png`) })
          expect(shot.byteLength).toBeGreaterThan(10_000)
          await page.context().close()
        }
      }
    })
  })
})
