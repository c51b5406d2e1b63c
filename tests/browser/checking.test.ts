/** Photos to check as a tired person works through it: gestures, the link gone, two people at once, marks and boxes. */
import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { CheckCardsAnswer, StillAnswer } from '../../services/http/shapes.ts'
import { projectFolder } from '../../services/paths.ts'
import type { TestService } from '../integration/service.ts'
import { openStation } from '../integration/station.ts'
import { faultsOf, NO_FAULTS } from './basics.ts'
import { openBrowser, openPage, type ScreenSize } from './browser.ts'
import { fillEvening, NIGHT } from './evening.ts'

const PHONE = 390
const DESK = 1280
const STUB_EYE = join(projectFolder, 'dist', 'tests', 'stub-eye.js')
/** A person looks at a photo before the next word; a quicker one is taken for an echo of the last. */
const LOOK_MS = 320

const opened = await openBrowser()
const why = 'why' in opened ? ` (skipped: ${opened.why})` : ''
const browser = 'browser' in opened ? opened.browser : (null as unknown as Browser)

let service: TestService
const pages: Page[] = []

async function startEvening(visits: Parameters<typeof fillEvening>[1]) {
  service = await openStation({ surroundings: { eyeEntry: STUB_EYE } })
  await fillEvening(service, visits)
}
async function open(path: string, size: ScreenSize = { width: DESK }): Promise<Page> {
  const page = await openPage(browser, size)
  pages.push(page)
  await page.goto(service.address + path)
  return page
}
const closePages = async () => {
  for (const page of pages.splice(0)) await page.context().close()
}
const answerOf = async <T>(path: string): Promise<T> =>
  (await (await fetch(service.address + path)).json()) as T
const cardsNow = (query = '') =>
  answerOf<CheckCardsAnswer>(`/api/checks/cards?night=${NIGHT}&limit=500${query}`)
const cardNow = async (key: string, query = '') =>
  (await cardsNow(query)).cards.find((card) => card.key === key)!
const activeKey = async (page: Page) =>
  (await page.locator('.check-card-active').getAttribute('id'))?.replace('card-', '') ?? ''
const bar = (page: Page) => page.locator('.check-bar strong').textContent()
const pathOf = (query = '') => `/check?night=${NIGHT}${query}`

/** Counts what a person's hand does: keys and taps that the browser itself takes for real. */
async function countGestures(page: Page): Promise<() => Promise<number>> {
  await page.evaluate(() => {
    const counted = window as unknown as { gestures: number }
    counted.gestures = 0
    const count = (event: Event) => {
      if (event.isTrusted) counted.gestures += 1
    }
    for (const name of ['keydown', 'pointerdown', 'wheel']) addEventListener(name, count, { capture: true })
  })
  return () => page.evaluate(() => (window as unknown as { gestures: number }).gestures)
}

describe.skipIf(why !== '')(`checking photos${why}`, () => {
  afterAll(async () => {
    if ('browser' in opened) await opened.browser.close()
  })

  describe('a hundred visits', () => {
    const VISITS = 100
    const MOST_GESTURES_A_VISIT = 1.3

    beforeAll(async () => await startEvening({ feral: VISITS }), 240_000)
    afterAll(async () => {
      await closePages()
      await service.stop()
    })

    test('where the machine is right: one key a visit', async () => {
      const page = await open(pathOf())
      await page.locator('.check-card-active').waitFor()
      const gestures = await countGestures(page)
      for (let visit = 0; visit < VISITS; visit += 1) {
        const before = await activeKey(page)
        await page.keyboard.press('a')
        if (visit < VISITS - 1) await expect.poll(() => activeKey(page)).not.toBe(before)
        await page.waitForTimeout(LOOK_MS)
      }
      await page.getByText('All looked at. Nothing waits.').waitFor()
      await expect.poll(async () => (await cardsNow()).waiting, { timeout: 20_000 }).toBe(0)
      const { checked } = await cardsNow()
      expect(checked).toBe(VISITS)
      expect((await gestures()) / VISITS).toBeLessThanOrEqual(MOST_GESTURES_A_VISIT)
    }, 240_000)

    test('by thumb: the button of the next card lies where the last one was tapped', async () => {
      const stills = (await cardsNow()).cards.slice(0, 12).flatMap((card) => card.stills)
      await service.send('POST', '/api/checks', {
        words: stills.map(({ id }) => ({ stillId: id, verdict: 'withdrawn' })),
      })
      const { waiting } = await cardsNow()
      const page = await open(pathOf(), { width: PHONE })
      const agree = page.locator('.check-card-active').getByRole('button', { name: 'Agree' })
      await agree.waitFor()
      // From the first card on all stand at the same height.
      await page.keyboard.press('k')
      await page.keyboard.press('j')
      await page.keyboard.press('k')
      const gestures = await countGestures(page)
      const { x, y, width, height } = (await agree.boundingBox())!
      const start = await activeKey(page)
      await agree.tap()
      await expect.poll(() => activeKey(page)).not.toBe(start)
      const spot = (await agree.boundingBox())!
      for (let visit = 1; visit < 12; visit += 1) {
        const before = await activeKey(page)
        await page.waitForTimeout(LOOK_MS)
        await page.touchscreen.tap(spot.x + spot.width / 2, spot.y + spot.height / 2)
        if (visit < 11) await expect.poll(() => activeKey(page)).not.toBe(before)
      }
      await expect.poll(async () => (await cardsNow()).waiting).toBe(waiting - 12)
      expect((await gestures()) / 12).toBeLessThanOrEqual(MOST_GESTURES_A_VISIT)
      expect([x, width, height].map(Math.round)).toEqual([spot.x, spot.width, spot.height].map(Math.round))
      expect(y).toBeGreaterThan(0)
    }, 120_000)
  })

  describe('an ordinary evening', () => {
    beforeAll(async () => await startEvening({ feral: 6, plain: 3 }), 120_000)
    afterAll(() => service.stop())
    beforeEach(async () => {
      const stills = [...(await cardsNow()).cards, ...(await cardsNow('&which=plain')).cards].flatMap(
        (card) => card.stills,
      )
      const spoken = stills.filter(({ check }) => check !== null)
      if (spoken.length === 0) return
      const words = spoken.map(({ id }) => ({ stillId: id, verdict: 'withdrawn' }))
      expect((await service.send('POST', '/api/checks', { words })).status).toBe(201)
    })
    afterEach(closePages)

    test('an echo of a tap says nothing of the next card, and a key held down says a thing once', async () => {
      const page = await open(pathOf())
      await page.locator('.check-card-active').waitFor()
      await page.evaluate(() => {
        for (const repeat of [false, true, true]) {
          dispatchEvent(new KeyboardEvent('keydown', { key: 'a', repeat, bubbles: true }))
        }
        dispatchEvent(new KeyboardEvent('keydown', { key: 'a', bubbles: true }))
      })
      await expect.poll(() => bar(page)).toBe('1 of 6 done')
      await expect.poll(async () => (await cardsNow()).checked).toBe(1)
    })

    test('a person in the picture is marked with two keys, says nothing of the count, and is taken back', async () => {
      const page = await open(pathOf())
      await page.locator('.check-card-active').waitFor()
      const key = await activeKey(page)
      await page.keyboard.press('m')
      await page.getByText('On all 3 photos of this visit').waitFor()
      await page.keyboard.press('6')
      await expect
        .poll(async () => (await cardNow(key)).stills.map(({ check }) => check?.marks))
        .toEqual([['person'], ['person'], ['person']])
      expect((await cardNow(key)).checked).toBe(false)
      expect(await activeKey(page)).toBe(key)
      await page.getByText('never leaves the station', { exact: false }).waitFor()
      await page.keyboard.press('u')
      await expect
        .poll(async () => (await cardNow(key)).stills.map(({ check }) => check))
        .toEqual([null, null, null])
    })

    test('undo of any length goes on after a reload', async () => {
      const page = await open(pathOf())
      await page.locator('.check-card-active').waitFor()
      const [first, second] = (await cardsNow()).cards.map(({ key }) => key)
      await page.keyboard.press('+')
      await page.keyboard.press('a')
      await page.waitForTimeout(LOOK_MS)
      await page.keyboard.press('n')
      await expect.poll(async () => (await cardsNow()).checked).toBe(2)
      await page.reload()
      await page.locator('.check-card-active').waitFor()
      await page.keyboard.press('u')
      await expect.poll(async () => (await cardNow(second!)).checked).toBe(false)
      expect(await activeKey(page)).toBe(second)
      await page.keyboard.press('u')
      await page.keyboard.press('u')
      await expect
        .poll(async () => (await cardNow(first!)).stills.map(({ check }) => check))
        .toEqual([null, null, null])
      await page.getByRole('button', { name: 'Undo' }).and(page.locator(':disabled')).waitFor()
    })

    test('a kind of the station’s own is one key more, and in no count', async () => {
      await service.send('POST', '/api/kinds', { name: 'sheep' })
      const page = await open(pathOf())
      await page.locator('.check-card-active').waitFor()
      const key = await activeKey(page)
      const { best } = await cardNow(key)
      await page.keyboard.press('s')
      await page.getByRole('button', { name: 'sheep' }).waitFor()
      await page.keyboard.press('6')
      await expect.poll(async () => (await cardNow(key)).checked).toBe(true)
      const { check, tally } = (await cardNow(key)).stills.find(({ id }) => id === best.id)!
      const [species, head] = Object.entries(best.machineTally)[0]!
      expect(check?.others).toEqual({ sheep: head })
      expect(tally).not.toHaveProperty(species)
    })

    test('the night’s other visits are one tap away and can be checked like any', async () => {
      const page = await open(pathOf(), { width: PHONE })
      await page.locator('.check-card-active').waitFor()
      expect(await page.getByText('5 cattle', { exact: false }).count()).toBe(0)
      await page.locator('summary').click()
      await page.getByRole('link', { name: 'Other visits of the night' }).click()
      await page.getByText('5 cattle', { exact: false }).first().waitFor()
      const key = await activeKey(page)
      await page.locator('.check-card-active').getByRole('button', { name: 'Nothing there' }).click()
      await expect.poll(async () => (await cardNow(key, '&which=plain')).checked).toBe(true)
      await expect.poll(() => bar(page)).toBe('1 of 3 done')
    })

    test('what two people say at once: each sees the other’s, nothing moves under their eyes, the later stands', async () => {
      const [mine, theirs] = [await open(pathOf()), await open(pathOf())]
      for (const page of [mine, theirs]) await page.locator('.check-card-active').waitFor()
      const key = await activeKey(mine)
      for (let down = 0; down < 3; down += 1) await theirs.keyboard.press('j')
      const place = () =>
        theirs.evaluate(() => document.querySelector('.check-card-active')!.getBoundingClientRect().top)
      const [before, at] = [await place(), await activeKey(theirs)]
      await mine.keyboard.press('n')
      const sentence = theirs.locator(`#sentence-${key}`)
      await sentence.getByText('Nothing counted', { exact: false }).waitFor()
      await expect.poll(() => bar(theirs)).toBe('1 of 6 done')
      expect(await activeKey(theirs)).toBe(at)
      expect(Math.abs((await place()) - before)).toBeLessThan(2)
      await theirs.locator(`#card-${key}`).getByRole('button', { name: 'Species' }).click()
      await theirs.keyboard.press('5')
      await mine.locator(`#sentence-${key}`).getByText('1 goat', { exact: false }).waitFor()
      const [still] = (await cardNow(key)).stills.filter(({ tally }) => tally.goat === 1)
      const { checks } = await answerOf<StillAnswer>(`/api/stills/${still!.id}`)
      expect(checks.slice(0, 2).map(({ counts }) => counts)).toEqual([{ goat: 1 }, {}])
      // What came later is not taken back by who spoke before.
      await mine.keyboard.press('u')
      await mine.getByText('Somebody else has spoken', { exact: false }).waitFor()
      await expect.poll(() => mine.getByText('not sent yet', { exact: false }).count()).toBe(0)
      expect((await cardNow(key)).peaks).toEqual({ goat: 1 })
    })

    test('an answer that is lost on its way: the words are sent again and said once', async () => {
      const page = await open(pathOf())
      await page.locator('.check-card-active').waitFor()
      const key = await activeKey(page)
      const logged = async () => {
        const ids = (await cardNow(key)).stills.map(({ id }) => id)
        const answers = await Promise.all(ids.map((id) => answerOf<StillAnswer>(`/api/stills/${id}`)))
        return answers.map(({ checks }) => checks.length)
      }
      const before = await logged()
      let tries = 0
      await page.route('**/api/checks', async (route) => {
        tries += 1
        if (tries > 1) return await route.continue()
        await route.fetch()
        await route.abort()
      })
      await page.keyboard.press('a')
      await expect.poll(() => tries, { timeout: 20_000 }).toBe(2)
      await expect.poll(() => page.getByText('not sent yet', { exact: false }).count()).toBe(0)
      expect((await cardNow(key)).checked).toBe(true)
      expect(await logged()).toEqual(before.map((length) => length + 1))
    })

    test('with the link gone: photos stay, words wait over a reload, and go in order once it is back', async () => {
      const page = await open(pathOf(), { width: PHONE, keeps: true })
      await page.locator('.check-card-active').waitFor()
      await page.evaluate(() => navigator.serviceWorker.ready)
      await page.reload()
      await page.locator('.check-card-active').waitFor()
      const shown = page.locator('.card-photo img')
      const drawn = () =>
        shown.evaluateAll((all) => all.filter((one) => (one as HTMLImageElement).naturalWidth > 0).length)
      await expect.poll(drawn).toBe(6)
      const [first, second] = (await cardsNow()).cards
      await page.context().setOffline(true)
      await page.keyboard.press('a')
      await page.getByText('1 word not sent yet.').waitFor()
      await page.waitForTimeout(LOOK_MS)
      await page.keyboard.press('+')
      await page.keyboard.press('+')
      await page.getByText('3 words not sent yet.').waitFor()
      await page.getByText('kept on this device', { exact: false }).waitFor()
      expect(await page.locator('.check-bar').textContent()).toContain('No link: 3 words wait here')

      await page.reload()
      await page.locator('.check-card-active').waitFor()
      await expect.poll(() => bar(page)).toBe('2 of 6 done')
      await page.getByText('3 words not sent yet.').waitFor()
      await expect.poll(drawn).toBe(6)
      await page.keyboard.press('u')
      await page.getByText('4 words not sent yet.').waitFor()

      await page.context().setOffline(false)
      await expect.poll(async () => (await cardsNow()).checked, { timeout: 20_000 }).toBe(2)
      await expect.poll(() => page.getByText('not sent yet', { exact: false }).count()).toBe(0)
      const heads = async (id: number) => {
        const { checks } = await answerOf<StillAnswer>(`/api/stills/${id}`)
        const said = checks.slice(0, checks.findIndex(({ verdict }) => verdict === 'withdrawn') >>> 0)
        return said
          .map(({ counts }) => Object.values(counts ?? {}).reduce((all, one) => all + one, 0))
          .reverse()
      }
      const head = (card: typeof first) =>
        Object.values(card!.best.machineTally).reduce((all, one) => all + one, 0)
      await expect
        .poll(() => heads(second!.best.id))
        .toEqual([head(second) + 1, head(second) + 2, head(second) + 1])
      expect(await heads(first!.best.id)).toEqual([head(first)])
    }, 120_000)

    test('with the link gone no water is well: the water run opens and says that nothing answers', async () => {
      const page = await open('/', { width: PHONE, keeps: true })
      await page.locator('.point-row').first().waitFor()
      await page.evaluate(() => navigator.serviceWorker.ready)
      await page.reload()
      await page.locator('.point-row').first().waitFor()
      await page.context().setOffline(true)
      await page.reload()
      await page.getByText('Hooftally does not answer.').waitFor()
      expect(await page.locator('.point-row').count()).toBe(0)
    })

    test('a word on a photo’s own page waits as well', async () => {
      const { id, machineTally } = (await cardsNow()).cards[1]!.best
      const page = await open(`/photos/${id}`, { width: PHONE })
      await page.getByRole('button', { name: 'Nothing there' }).waitFor()
      await page.context().setOffline(true)
      await page.getByRole('button', { name: 'Nothing there' }).click()
      await page.getByText('What stands: nothing counted').waitFor()
      await page.getByText('1 word not sent yet.').waitFor()
      const tally = async () => (await answerOf<StillAnswer>(`/api/stills/${id}`)).still.tally
      expect(await tally()).toEqual(machineTally)
      await page.context().setOffline(false)
      await expect.poll(tally, { timeout: 20_000 }).toEqual({})
    })

    test('a browser that keeps nothing, as on plain http: words go all the same', async () => {
      const page = await openPage(browser, { width: PHONE })
      pages.push(page)
      await page.addInitScript(() => {
        for (const name of ['indexedDB', 'caches']) Object.defineProperty(window, name, { value: undefined })
        Object.defineProperty(crypto, 'randomUUID', { value: undefined })
      })
      await page.goto(service.address + pathOf())
      await page.locator('.check-card-active').waitFor()
      const key = await activeKey(page)
      await page.keyboard.press('a')
      await expect.poll(async () => (await cardNow(key)).checked).toBe(true)
      await page.keyboard.press('u')
      await expect.poll(async () => (await cardNow(key)).checked).toBe(false)
    })

    test('a box is drawn where the camera missed an animal: one more, and it can be taken away', async () => {
      const { id, machineTally } = (await cardsNow()).cards[0]!.best
      const [species] = Object.keys(machineTally) as ['camel']
      const page = await open(`/photos/${id}`)
      await page.getByRole('button', { name: 'Draw a box' }).click()
      const ground = (await page.locator('.draw-ground').boundingBox())!
      await page.mouse.move(ground.x + ground.width * 0.5, ground.y + ground.height * 0.5)
      await page.mouse.down()
      await page.mouse.move(ground.x + ground.width * 0.75, ground.y + ground.height * 0.9, { steps: 4 })
      await page.mouse.up()
      const check = async () => (await answerOf<StillAnswer>(`/api/stills/${id}`)).still.check
      await expect.poll(async () => (await check())?.boxes.length).toBe(1)
      const { width, height } = (await answerOf<StillAnswer>(`/api/stills/${id}`)).still
      const [x0, y0, x1, y1] = (await check())!.boxes[0]!.box
      const shares = [x0 / width!, y0 / height!, x1 / width!, y1 / height!]
      for (const [index, share] of [0.5, 0.5, 0.75, 0.9].entries())
        expect(shares[index]).toBeCloseTo(share, 1)
      expect((await check())?.counts?.[species]).toBe((machineTally[species] ?? 0) + 1)
      await page.locator('.box-drawn').waitFor()
      await page.getByRole('button', { name: 'Take this box away' }).click()
      await expect.poll(async () => (await check())?.boxes).toEqual([])
      expect((await check())?.counts).toEqual(machineTally)
    })

    test.each([
      [PHONE, 'light'],
      [DESK, 'dark'],
    ] as const)(
      'names, room for a thumb, no sideways scroll, with everything open: %i %s',
      async (width, scheme) => {
        const page = await open(pathOf(), { width, scheme })
        await page.locator('.check-card-active').waitFor()
        await page.locator('summary').click()
        await page.keyboard.press('m')
        await page.getByRole('button', { name: 'Injured or down' }).waitFor()
        expect(await faultsOf(page)).toEqual(NO_FAULTS)
        await page.keyboard.press('s')
        await page.getByRole('button', { name: 'Keep as it is' }).waitFor()
        expect(await faultsOf(page)).toEqual(NO_FAULTS)
      },
    )
  })
})
