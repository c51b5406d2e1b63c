/** A camera's card put in from the view, in a real browser: a link that is cut, a page that is closed, nothing twice. */
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { z } from 'zod'
import { cameraWithKey, pointShape, stillPage } from '../../services/http/shapes.ts'
import { photoTakenAt } from '../integration/photos.ts'
import { faultsOf, NO_FAULTS } from './basics.ts'
import { openBrowser, openPage } from './browser.ts'
import { startBuiltService } from './service.ts'

const PHONE = 390
const DESK = 1280
const PHOTOS = 20
const CUT_AFTER = 6
const START_TIMEOUT_MS = 400_000

const opened = await openBrowser()
const why = 'why' in opened ? ` (skipped: ${opened.why})` : ''

describe.skipIf(why !== '').sequential(`a card put in from the view${why}`, () => {
  let address = ''
  let stop: () => Promise<void> = async () => undefined
  let folder = ''
  let cameraId = 0
  let page: Page
  /** Names of the files that the service answered for, in order. */
  const answered: string[] = []
  let isCut = false

  beforeAll(async () => {
    if ('why' in opened) return
    const service = await startBuiltService('serve')
    address = service.address
    stop = service.stop
    const station = { name: 'Saltbush Flat', zone: 'Australia/Adelaide', homestead: { lat: -28, lon: 135 } }
    await tell('PUT', '/api/station', station)
    const { point } = z
      .object({ point: pointShape })
      .parse(await tell('POST', '/api/points', { name: 'Wren Bore', lat: -28.1, lon: 135.1 }))
    const made = await tell('POST', '/api/cameras', { name: 'Wren camera', pointId: point.id })
    cameraId = cameraWithKey.parse(made).camera.id
    folder = await fillCard()
    page = await openCardPage(DESK)
  }, START_TIMEOUT_MS)
  afterAll(async () => {
    if ('browser' in opened) await opened.browser.close()
    await stop()
    if (folder !== '') await rm(folder, { recursive: true, force: true })
  })

  async function tell(method: string, path: string, body: unknown): Promise<unknown> {
    const answer = await fetch(`${address}${path}`, {
      method,
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(body),
    })
    expect(answer.status).toBeLessThan(300)
    return await answer.json()
  }

  async function fillCard(): Promise<string> {
    const card = await mkdtemp(join(tmpdir(), 'hooftally-card-'))
    await mkdir(join(card, 'DCIM', '100'), { recursive: true })
    for (let i = 0; i < PHOTOS; i += 1) {
      const day = String(3 + Math.floor(i / 2)).padStart(2, '0')
      const bytes = await photoTakenAt('galah-well-04.jpg', `2026-03-${day}T0${i % 2}:15:00+10:30`)
      await writeFile(join(card, 'DCIM', '100', `IMG_${String(i).padStart(4, '0')}.JPG`), bytes)
    }
    await writeFile(join(card, 'DCIM', '100', 'IMG_0900.JPG'), 'cut short')
    await writeFile(join(card, 'DCIM', 'log.txt'), 'battery 80 %')
    return card
  }

  async function openCardPage(width: number): Promise<Page> {
    if ('why' in opened) throw new Error(opened.why)
    const fresh = await openPage(opened.browser, { width })
    await watchLink(fresh)
    return fresh
  }

  /** Counts what the service answered for, and cuts the link after some photos. */
  async function watchLink(to: Page): Promise<void> {
    await to.route('**/api/cameras/*/card', async (route) => {
      if (isCut) return route.abort('connectionfailed')
      const response = await route.fetch()
      answered.push(decodeURIComponent(route.request().headers()['x-file-name'] ?? ''))
      if (answered.length === CUT_AFTER) isCut = true
      await route.fulfill({ response })
    })
    await to.route('**/api/cameras/*/card/known', (route) =>
      isCut ? route.abort('connectionfailed') : route.continue(),
    )
  }

  const choose = (from: Page) => from.getByLabel('Choose the folder').setInputFiles(join(folder, 'DCIM'))
  const stillsNow = async () => {
    const answer = await fetch(`${address}/api/stills?limit=200&camera=${cameraId}`)
    return stillPage.parse(await answer.json()).stills
  }

  test('Set-up leads to it, with the camera chosen', async () => {
    await page.goto(`${address}/setup#cameras`)
    await page.getByRole('button', { name: 'How photos of Wren camera come in' }).click()
    await page.getByRole('link', { name: 'Put in the card of Wren camera' }).click()
    await page.getByRole('heading', { level: 1, name: 'Put in a card' }).waitFor()
    expect(await page.getByLabel('The card of').inputValue()).toBe(String(cameraId))
    expect(await faultsOf(page)).toEqual(NO_FAULTS)
  })
  test('a link that is cut is told, and what is in stays in', async () => {
    await choose(page)
    await page.getByRole('alert').getByText('Hooftally does not answer.').waitFor()
    await page.getByText(/of 21 photos: \d+ new/).waitFor()
    expect(answered.length).toBeGreaterThanOrEqual(CUT_AFTER)
    expect(answered.length).toBeLessThan(PHOTOS)
  })
  test('a page that is opened again says how far it was, and goes on from there without sending anything twice', async () => {
    const before = answered.length
    page.once('dialog', (dialog) => void dialog.accept())
    await page.reload()
    await page.getByText(/of 21 photos of “DCIM” for Wren camera were in when the page was closed/).waitFor()
    isCut = false
    await choose(page)
    await page.getByText('The card is in.').waitFor()
    expect(answered.length).toBeGreaterThan(before)
    expect(answered.toSorted()).toEqual([...new Set(answered)].toSorted())
    expect(answered).toHaveLength(PHOTOS + 1)
    expect(await stillsNow()).toHaveLength(PHOTOS + 1)
    await page.getByText('21 of 21 photos').waitFor()
  })
  test('it tells what was new, known and unreadable, what was left aside, and over what span', async () => {
    const facts = page.locator('.card-facts > div')
    const told = Object.fromEntries(
      (await facts.all()).length === 0
        ? []
        : await Promise.all(
            (await facts.all()).map(async (fact) => [
              await fact.locator('dt').textContent(),
              await fact.locator('dd').textContent(),
            ]),
          ),
    )
    expect(told).toMatchObject({
      'Could not be read': '1',
      'Left aside: no photos': '1',
      Taken: 'Tue 3 Mar 2026, 00:15 to Thu 12 Mar 2026, 01:15',
    })
    expect(Number(told.New) + Number(told['In already'])).toBe(PHOTOS + 1)
    expect(await page.getByText('DCIM/log.txt').count()).toBe(1)
  })
  test('when the camera was put up is offered, and written down by one tap', async () => {
    await page.getByRole('button', { name: 'Put up at Wren Bore on Tue 3 Mar 2026, 00:15' }).click()
    await page.getByText('Written down.').waitFor()
    const answer = await fetch(`${address}/api/cameras/${cameraId}/times`)
    expect(await answer.json()).toMatchObject({ times: [{ from: '2026-03-03T00:15:00+10:30', to: null }] })
  })
  test('the same card again sends nothing', async () => {
    const before = answered.length
    await page.getByRole('button', { name: 'Put in another card' }).click()
    await choose(page)
    await page.getByText('21 of 21 photos: 0 new, 21 in already').waitFor()
    expect(answered).toHaveLength(before)
  })
  test.each([PHONE, DESK])('the page holds up at %i px', async (width) => {
    for (const scheme of ['light', 'dark'] as const) {
      if ('why' in opened) return
      const fresh = await openPage(opened.browser, { width, scheme })
      await fresh.goto(`${address}/card?camera=${cameraId}`)
      await fresh.getByLabel('The card of').waitFor()
      expect(await faultsOf(fresh)).toEqual(NO_FAULTS)
      if (process.env.CARD_SHOTS)
        await fresh.screenshot({
          path: `${process.env.CARD_SHOTS}/card-${width}-${scheme}-start.png`,
          fullPage: true,
        })
      if (width === DESK) {
        await choose(fresh)
        await fresh.getByText('The card is in.').waitFor()
        expect(await faultsOf(fresh)).toEqual(NO_FAULTS)
        if (process.env.CARD_SHOTS)
          await fresh.screenshot({
            path: `${process.env.CARD_SHOTS}/card-${width}-${scheme}.png`,
            fullPage: true,
          })
        await fresh.setViewportSize({ width: PHONE, height: 844 })
        expect(await faultsOf(fresh)).toEqual(NO_FAULTS)
        if (process.env.CARD_SHOTS)
          await fresh.screenshot({
            path: `${process.env.CARD_SHOTS}/card-${PHONE}-${scheme}.png`,
            fullPage: true,
          })
      }
      await fresh.context().close()
    }
  })
})
