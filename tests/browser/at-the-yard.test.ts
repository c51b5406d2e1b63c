/** At the yard: entered with the link gone, come through later; sheets on one page; a trip from a photo until it is done. */
import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { WaterRunAnswer } from '../../services/http/shapes.ts'
import type { JobsAnswer, OutcomesAnswer, TrapLogAnswer } from '../../services/http/yard-shapes.ts'
import { projectFolder } from '../../services/paths.ts'
import type { TestService } from '../integration/service.ts'
import { addPointWithCamera, openStation } from '../integration/station.ts'
import { addProgram, trapWord } from '../integration/yard-entries.ts'
import { faultsOf, NO_FAULTS } from './basics.ts'
import { openBrowser, openPage, type ScreenSize } from './browser.ts'
import { fillEvening } from './evening.ts'

const PHONE = 390
const DESK = 1280
const STUB_EYE = join(projectFolder, 'dist', 'tests', 'stub-eye.js')
const HOUR_MS = 3_600_000
const TRAPS = 10

const opened = await openBrowser()
const why = 'why' in opened ? ` (skipped: ${opened.why})` : ''
const browser = 'browser' in opened ? opened.browser : (null as unknown as Browser)

let service: TestService
let programId: number
let pointId: number

const answerOf = async <T>(path: string): Promise<T> =>
  (await (await fetch(service.address + path)).json()) as T
const outcomes = () => answerOf<OutcomesAnswer>(`/api/outcomes?point=${pointId}`)
const trapLog = () => answerOf<TrapLogAnswer>(`/api/points/${pointId}/trap-log`)
const headsStanding = async () =>
  (await outcomes()).outcomes.flatMap(({ head, takenBack }) => (takenBack === null ? [head] : []))
async function open(path: string, size: ScreenSize = { width: PHONE }): Promise<Page> {
  const page = await openPage(browser, size)
  await page.goto(service.address + path)
  return page
}
/** Fills in head taken, on a phone, and saves it. */
async function take(page: Page, head: string): Promise<void> {
  await page.getByRole('button', { name: 'Head taken' }).click()
  const form = page.getByRole('form', { name: 'Head taken' })
  await form.getByLabel('Head', { exact: true }).fill(head)
  await form.getByRole('button', { name: 'Save' }).click()
}

describe.skipIf(why !== '')(`at the yard${why}`, () => {
  beforeAll(async () => {
    service = await openStation({ surroundings: { eyeEntry: STUB_EYE } })
    // The phone's clock and the station's go alike.
    service.setClock(new Date().toISOString())
    await fillEvening(service, { feral: 1 })
    pointId = (await addPointWithCamera(service, { name: 'Wren Bore', hasYard: true })).pointId
    programId = await addProgram(service)
  }, 240_000)
  afterAll(async () => {
    if ('browser' in opened) await opened.browser.close()
    await service?.stop()
  })

  test('with the link gone the page opens, entries wait over a reload, and come through once each', async () => {
    const page = await open(`/yard?point=${pointId}`, { width: PHONE, keeps: true })
    await page.getByRole('heading', { name: 'The trap' }).waitFor()
    await page.evaluate(() => navigator.serviceWorker.ready)
    await page.reload()
    await page.getByRole('heading', { name: 'The trap' }).waitFor()
    await page.getByLabel('Your name').fill('Ash')

    await page.context().setOffline(true)
    await page.reload()
    await page.getByText('points and programs are as they were', { exact: false }).waitFor()
    await page.getByText('How the traps stand can’t be told', { exact: false }).waitFor()
    const trap = page.getByRole('form', { name: 'The trap' })
    await trap.getByRole('button', { name: 'Trap set' }).click()
    await trap.getByRole('button', { name: 'Save' }).click()
    await page.getByText('Kept on this phone: Trap set.').waitFor()
    await take(page, '7')
    await page.getByText('2 entries kept on this phone, not sent yet.').waitFor()

    await page.reload()
    await page.getByText('2 entries kept on this phone, not sent yet.').waitFor()
    // A slip is put right before there is a link.
    const waiting = page.getByRole('listitem').filter({ hasText: '7 camels, trucked' })
    await waiting.getByRole('button', { name: 'Put right' }).click()
    await take9(page)
    await page.getByText('3 entries kept on this phone, not sent yet.').waitFor()
    expect((await outcomes()).outcomes).toEqual([])

    await page.context().setOffline(false)
    await expect.poll(headsStanding, { timeout: 30_000 }).toEqual([9])
    await expect.poll(async () => (await trapLog()).trap?.state).toBe('set')
    const { outcomes: all } = await outcomes()
    expect(all.map(({ head, who }) => [head, who])).toEqual([
      [9, 'Ash'],
      [7, 'Ash'],
    ])
    await expect.poll(() => page.getByText('not sent yet', { exact: false }).count()).toBe(0)
    await page.context().close()
  }, 120_000)

  test('an open page goes on with the link gone where the browser keeps no page, as on plain http', async () => {
    const page = await open(`/yard?point=${pointId}`)
    await page.getByRole('heading', { name: 'The trap' }).waitFor()
    await page.context().setOffline(true)
    const trap = page.getByRole('form', { name: 'The trap' })
    await trap.getByLabel('Head inside now').fill('4')
    await trap.getByRole('button', { name: 'Save' }).click()
    await page.getByText('Kept on this phone: Visited, 4 head inside.').waitFor()
    await page.context().setOffline(false)
    await expect.poll(async () => (await trapLog()).trap?.held?.head, { timeout: 30_000 }).toBe(4)
    await page.context().close()
  }, 60_000)

  test('what the station does not take stays on the phone until it is put right', async () => {
    const page = await open(`/yard?point=${pointId}`)
    await take(page, '123456')
    await page.getByRole('heading', { name: 'Not taken' }).waitFor()
    await page.reload()
    const notTaken = page.getByRole('region', { name: 'Not taken' })
    await notTaken.getByRole('button', { name: 'Put right' }).click()
    const form = page.getByRole('form', { name: 'Head taken' })
    await form.getByLabel('Head', { exact: true }).fill('12')
    await form.getByRole('button', { name: 'Save' }).click()
    await expect.poll(headsStanding).toEqual([12, 9])
    await expect.poll(() => page.getByRole('heading', { name: 'Not taken' }).count()).toBe(0)
    await page.context().close()
  }, 60_000)

  test('an entry is taken back by a word that can still be read', async () => {
    const page = await open(`/yard?point=${pointId}`)
    const entry = page.getByRole('listitem').filter({ hasText: '12 camels, trucked' })
    await entry.getByRole('button', { name: 'Take back' }).click()
    await entry.getByRole('button', { name: 'Yes, it was wrong' }).click()
    await page.getByText('taken back by', { exact: false }).waitFor()
    expect(await headsStanding()).toEqual([9])
    await page.context().close()
  })

  test('a trap that nobody visited is an alarm on the water run, louder with head inside', async () => {
    service.passHours(30.5)
    const page = await open('/')
    await page.getByText('4 head held at Wren Bore and nobody there for 30 h: go now').waitFor()
    await page.goto(`${service.address}/programs`)
    await page.getByText('1 trap not visited in time').waitFor()
    await page.context().close()
  })

  test('a trip is asked for from a photo, stands on the water run, and is done by somebody', async () => {
    const { rows } = await answerOf<WaterRunAnswer>('/api/water-run')
    const stillId = rows.find(({ lastPhoto }) => lastPhoto !== null)!.lastPhoto!.stillId
    const page = await open(`/photos/${stillId}`)
    await page.getByRole('button', { name: 'Needs a trip' }).click()
    const form = page.getByRole('form', { name: 'Needs a trip' })
    await form.getByRole('button', { name: 'Float' }).click()
    await form.getByLabel('Whose job').fill('Robin')
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
    await form.getByRole('button', { name: 'Put it on the list' }).click()
    const jobs = async (which: string) => (await answerOf<JobsAnswer>(`/api/jobs?which=${which}`)).jobs
    await expect.poll(async () => (await jobs('open')).length).toBe(1)
    await page.goto(service.address)
    const block = page.getByRole('region', { name: '1 trip needed' })
    await block.getByText('For Robin.', { exact: false }).waitFor()
    const mail = await block.getByRole('link', { name: 'Mail' }).getAttribute('href')
    expect(decodeURIComponent(mail!)).toContain(`/photos/${stillId}`)
    await block.getByRole('button', { name: 'Done' }).click()
    await block.getByLabel('Done by').fill('Casey')
    await block.getByRole('button', { name: 'Yes, done' }).click()
    await expect.poll(async () => (await jobs('open')).length).toBe(0)
    expect((await jobs('all'))[0]).toMatchObject({ ended: { word: 'done', who: 'Casey' } })
    await page.context().close()
  }, 60_000)

  test.each([PHONE, DESK])(
    'the screens owe nobody anything at %i px',
    async (width) => {
      for (const path of [
        '/yard',
        `/programs/${programId}/outcomes`,
        '/sheets/yard',
        '/sheets/notice',
        '/sheets/take',
      ]) {
        const page = await open(path, { width })
        await page.locator('h1').waitFor()
        await page.waitForLoadState('networkidle')
        expect(await faultsOf(page), path).toEqual(NO_FAULTS)
        await page.context().close()
      }
    },
    120_000,
  )

  test('each sheet is one A4 page, with the words of safety, on a station with many set traps', async () => {
    const at = new Date(service.house.now() - HOUR_MS).toISOString()
    const points = await Promise.all(
      Array.from({ length: TRAPS }, (_, i) =>
        addPointWithCamera(service, { name: `Far${i} Away Turkey Nest Bore`, hasYard: true }),
      ),
    )
    const held = { held: 123, species: 'camel', class: 'cows and young', heldSince: at }
    await service.send('POST', '/api/trap-log', {
      who: 'A long name',
      words: points.flatMap(({ pointId: id }) => [
        trapWord(id, 'trap set', at),
        trapWord(id, 'visited', at, held),
      ]),
    })
    for (const path of [
      '/sheets/yard',
      `/sheets/notice?program=${programId}`,
      `/sheets/take?program=${programId}`,
    ]) {
      const page = await open(path, { width: DESK })
      await page.getByText('Local codes, permits and welfare law', { exact: false }).waitFor()
      const pdf = await page.pdf({ preferCSSPageSize: true })
      // PDF 1.7 (ISO 32000-1, section 7.7.3.3): each page is an object of type Page.
      expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g), path).toHaveLength(1)
      await page.context().close()
    }
  }, 120_000)
})

/** The form that puts an entry right stands alone on the phone. */
async function take9(page: Page): Promise<void> {
  const form = page.getByRole('form', { name: 'Head taken' })
  await form.getByLabel('Head', { exact: true }).fill('9')
  await form.getByRole('button', { name: 'Save' }).click()
}
