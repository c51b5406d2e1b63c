/** This station's own animals in Set-up, in a real browser: what was learnt, on and off, named again, kinds of one's own. */
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { openRecording } from '../../services/queue/process-still.ts'
import { parseInstant } from '../../services/station-time.ts'
import { recordChecks } from '../../services/store/checks.ts'
import type { Instant } from '../../services/words.ts'
import { inventedAnimals } from '../integration/invented-animals.ts'
import { openService, type TestService } from '../integration/service.ts'
import { receive } from '../integration/small-station.ts'
import { addPointWithCamera, setUpStation } from '../integration/station.ts'
import { faultsOf, NO_FAULTS } from './basics.ts'
import { openBrowser, openPage } from './browser.ts'

const PHONE = 390
const DESK = 1280
const NIGHTS = 16
const NIGHT_MS = 86_400_000
const HOUR_MS = 3_600_000
const START_TIMEOUT_MS = 120_000
/** The view offers the four weeks before its browser's day. */
const FIRST_NIGHT = Date.now() - (NIGHTS + 2) * NIGHT_MS

const opened = await openBrowser()
const why = 'why' in opened ? ` (skipped: ${opened.why})` : ''

describe.skipIf(why !== '').sequential(`this station’s own animals${why}`, () => {
  let service: TestService
  let page: Page

  beforeAll(async () => {
    if ('why' in opened) return
    service = await openService()
    await setUpStation(service)
    const camera = await addPointWithCamera(service, { name: 'Wren Bore' })
    const { ledger, models } = service.house
    const station = {
      ledger,
      pointId: camera.pointId,
      cameraIds: [camera.id, camera.id],
      url: service.databaseUrl,
      close: async () => {},
    } as const
    const animals = inventedAnimals(5)
    const recordLook = openRecording(ledger)
    for (let night = 0; night < NIGHTS; night++)
      for (const [place, kind] of ['camel', 'horse', 'goat'].entries()) {
        const at = (FIRST_NIGHT + night * NIGHT_MS + place * HOUR_MS) as Instant
        const id = await receive(station, { name: `${night} ${kind}`, cameraId: camera.id, at })
        await recordLook({ stillId: id, urgency: 'today' }, animals.look([kind, kind], models))
        await recordChecks(ledger, {
          who: 'station',
          at: parseInstant('2026-11-25T06:00:00+10:30'),
          words: [{ stillId: id, verdict: 'corrected', counts: { [kind]: 2 } }],
        })
      }
    page = await openPage(opened.browser, { width: PHONE })
  }, START_TIMEOUT_MS)
  afterAll(async () => {
    if ('browser' in opened) await opened.browser.close()
    await service?.stop()
  })

  const part = () => page.getByRole('region', { name: 'This station’s own animals' })
  const open = async () => {
    await page.goto(`${service.address}/setup#ownAnimals`)
    await part().getByRole('heading', { name: 'Kinds of your own' }).waitFor()
  }

  test('says how much there is to learn from before anything was learnt', async () => {
    await open()
    await part()
      .getByText(`${NIGHTS * 6} checked animals so far; it tries at 60.`)
      .waitFor()
    expect(await part().getByRole('button', { name: 'Turn it off' }).count()).toBe(0)
  })
  test('tells what was learnt, how the trial went, and which animals are named as before', async () => {
    service.house.learning.wake()
    await service.house.learning.settled()
    await open()
    await part()
      .getByText(`On: photos are named by what was learnt from ${NIGHTS * 6} checked animals`)
      .waitFor()
    await part()
      .getByText(`None of ${NIGHTS * 6} animals was counted wrongly, ${NIGHTS * 2} before.`)
      .waitFor()
    await part().getByText('Cattle and donkeys are named exactly as before').waitFor()
    expect(
      await part()
        .getByRole('row', { name: `Camel ${NIGHTS * 2} 0 better` })
        .count(),
    ).toBe(1)
  })
  test('names the photos of the last weeks again once somebody asks', async () => {
    await part().getByRole('button', { name: 'Name the photos of the last four weeks again' }).click()
    await part()
      .getByText(/Old photos are being gone through|Every photo worth a look/)
      .first()
      .waitFor()
    const state = async () => {
      const { reruns } = (await service.ask('/api/reruns')).json as {
        reruns: Array<{ state: string; done: number }>
      }
      return reruns[0] && [reruns[0].state, reruns[0].done]
    }
    await expect.poll(state, { timeout: 30_000 }).toEqual(['done', NIGHTS * 3])
  })
  test('is turned off after a question, with the keyboard, and on again', async () => {
    await open()
    await part().getByRole('button', { name: 'Turn it off' }).press('Enter')
    await part().getByRole('alert').getByText('get their old names back').waitFor()
    await part().getByRole('button', { name: 'Yes, turn it off' }).press('Enter')
    await part().getByText('Turned off: photos are named as Hooftally came.').waitFor()
    await part().getByRole('button', { name: 'Turn it on' }).click()
    await part().getByText('On: photos are named by what was learnt').waitFor()
  })
  test('whether a newer one is used by itself is remembered', async () => {
    const tick = () => part().getByLabel('When it learns to count better still, use that by itself')
    expect(await tick().isChecked()).toBe(true)
    await tick().uncheck()
    await expect
      .poll(async () => ((await service.ask('/api/namers')).json as { takesNew: boolean }).takesNew)
      .toBe(false)
    await open()
    await expect.poll(() => tick().isChecked()).toBe(false)
  })
  test('keeps kinds of one’s own, and refuses one of the five at its field', async () => {
    await part().getByLabel('Kind', { exact: true }).fill('Camels')
    await part().getByRole('button', { name: 'Add the kind' }).click()
    await expect
      .poll(() => part().getByLabel('Kind', { exact: true }).getAttribute('aria-invalid'))
      .toBe('true')
    await part().getByLabel('Kind', { exact: true }).fill('Wild dog')
    await part().getByRole('button', { name: 'Add the kind' }).click()
    await part().getByRole('button', { name: 'Take wild dog off the list' }).click()
    await part().getByRole('button', { name: 'Yes, take it off' }).click()
    await part().getByText('None yet.').waitFor()
  })
  test('that a species never comes can be said, and taken back', async () => {
    const donkey = () => part().getByRole('group', { name: 'Never on this station' }).getByLabel('Donkey')
    const absent = async () => ((await service.ask('/api/namers')).json as { absent: string[] }).absent
    await donkey().check()
    await expect.poll(absent).toEqual(['donkey'])
    await donkey().uncheck()
    await expect.poll(absent).toEqual([])
  })
  test('species said one right after the other all stand, and no answer to an earlier word shows over a later', async () => {
    const group = () => part().getByRole('group', { name: 'Never on this station' })
    const absent = async () => ((await service.ask('/api/namers')).json as { absent: string[] }).absent
    // What the page asks again comes late: the next word is said before it is there.
    await page.route('**/api/namers', async (route) => {
      if (route.request().method() === 'GET') await new Promise((resolve) => setTimeout(resolve, 300))
      await route.continue()
    })
    await group().getByLabel('Donkey').check()
    await group().getByLabel('Goat').check()
    await expect.poll(absent).toEqual(['donkey', 'goat'])
    await group().getByLabel('Donkey').uncheck()
    await group().getByLabel('Goat').uncheck()
    await expect.poll(absent).toEqual([])
    expect(await group().getByRole('checkbox', { checked: true }).count()).toBe(0)
    await page.unrouteAll({ behavior: 'wait' })
  })
  test('a kind of one’s own can be said of a photo', async () => {
    await service.send('POST', '/api/kinds', { name: 'sheep' })
    await page.goto(`${service.address}/photos/1`)
    await page.getByRole('button', { name: 'Correct the count' }).click()
    for (let camels = 2; camels > 0; camels--)
      await page.getByRole('button', { name: 'One camel fewer' }).click()
    for (let sheep = 0; sheep < 2; sheep++) await page.getByRole('button', { name: 'One sheep more' }).click()
    await page.getByRole('button', { name: 'Save this count' }).click()
    await page.getByRole('heading', { name: 'What stands: 2 sheep' }).waitFor()
    const said = async () =>
      ((await service.ask('/api/stills/1')).json as { checks: Array<{ counts: object; others: object }> })
        .checks[0]
    await expect.poll(said).toMatchObject({ counts: {}, others: { sheep: 2 } })
  })
  test.each([PHONE, DESK])('the page holds up at %i px', async (width) => {
    await page.setViewportSize({ width, height: 900 })
    await open()
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
  })
})
