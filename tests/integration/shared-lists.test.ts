/** A link to a target list: it shows the list and nothing else of the station, and it ends. */
import { sql } from 'kysely'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import {
  type Program,
  type ShareLink,
  shareLinkMade,
  shareLinksAnswer,
  type TargetListAnswer,
} from '../../services/http/program-shapes.ts'
import { programSafety } from '../../web/text/safety.ts'
import { makeProgram } from './planned-program.ts'
import { everyNights, openProgramStation, type ProgramStation } from './program-station.ts'
import { MORNING, problemOf, strictly } from './service.ts'

let station: ProgramStation
let program: Program
let link: ShareLink
let path: string
beforeAll(async () => {
  station = await openProgramStation([
    { name: 'Often <Bore>', lat: -28.2, lon: 134, came: everyNights(3, { camel: 5 }) },
    { name: 'Donkey Tank', lat: -28.3, lon: 134, came: everyNights(5, { donkey: 2 }) },
  ])
  program = await makeProgram(station.service)
})
afterAll(() => station?.stop())
beforeEach(async () => {
  station.service.setClock(MORNING)
  ;({ link, path } = await makeLink({ days: 7, forWhom: 'Bo', who: 'Ash' }))
})

async function makeLink(body: object) {
  const answer = await station.service.send('POST', `/api/programs/${program.id}/links`, body)
  expect(answer.status).toBe(201)
  return strictly(shareLinkMade, answer)
}
const open = async (at = path) => {
  const answer = await station.service.ask(at)
  return { ...answer, text: answer.bytes.toString() }
}
const ownList = async () =>
  (await station.service.ask(`/api/programs/${program.id}/target-list`)).json as TargetListAnswer
const photosIn = (text: string) => [...text.matchAll(/<img src="([^"]*)"/g)].map(([, src]) => src!)

describe('what a link shows', () => {
  it('the list, with every word of safety, as a page that needs no script and calls nowhere', async () => {
    const { status, headers, text } = await open()
    expect(status).toBe(200)
    expect(text).toContain('Often &lt;Bore&gt;')
    expect(text).not.toContain('Donkey Tank')
    for (const line of programSafety) expect(text).toContain(line)
    expect(text).not.toMatch(/<script|<form|href=|onclick/i)
    expect(headers.get('content-security-policy')).toMatch(/^default-src 'none'; img-src 'self'/)
    expect(headers.get('referrer-policy')).toBe('no-referrer')
    expect(headers.get('cache-control')).toBe('no-store')
    expect(headers.get('x-robots-tag')).toBe('noindex')
  })

  it('the photos that stand on the list, and no other photo of the station', async () => {
    const [photo] = photosIn((await open()).text)
    const shown = (await ownList()).lines[0]!.photo!.stillId
    expect(photo).toBe(`${path}/photos/${shown}`)
    const picture = await open(photo)
    expect([picture.status, picture.headers.get('content-type')]).toEqual([200, 'image/webp'])
    const { rows } = await sql<{
      id: number
    }>`select id from stills where id <> ${shown} and state = 'done'`.execute(station.ledger)
    expect(rows.length).toBeGreaterThan(10)
    for (const { id } of [...rows.slice(0, 5), ...rows.slice(-5)])
      expect((await open(`${path}/photos/${id}`)).status).toBe(404)
    expect((await open(`${path}/photos/x`)).status).toBe(404)
  })

  it('nothing of the station lies under its address', async () => {
    for (const below of ['api/points', 'index.html', 'photos', '..%2f..%2fapi%2fpoints', 'target-list']) {
      const { status, text } = await open(`${path}/${below}`)
      expect(status).toBe(404)
      expect(text).not.toContain('Often')
      expect(text).not.toContain('<div id="view">')
    }
  })

  it('a photo leaves it once somebody says that a person is in it', async () => {
    const [before] = photosIn((await open()).text)
    const stillId = Number(before!.split('/').at(-1))
    await station.service.send('POST', '/api/checks', {
      words: [{ stillId, verdict: 'marked', marks: ['person'] }],
    })
    expect((await open(before)).status).toBe(404)
    expect(photosIn((await open()).text)[0]).not.toBe(before)
  })
})

describe('how a link ends', () => {
  it('by itself, at the end that was chosen, and then says when', async () => {
    const [photo] = photosIn((await open()).text)
    station.service.setClock('2026-12-02T06:09:59+10:30')
    expect((await open()).status).toBe(200)
    station.service.setClock('2026-12-02T06:10:00+10:30')
    const { status, text } = await open()
    expect(status).toBe(410)
    expect(text).toContain('This link ended on Wed 2 Dec, 06:10.')
    expect(text).not.toContain('Often')
    expect((await open(photo)).status).toBe(410)
  })

  it('by hand, at once; ended again it stays as it was', async () => {
    const end = () => station.service.send('POST', `/api/share-links/${link.id}/end`, {})
    expect((await end()).status).toBe(200)
    const { status, text } = await open()
    expect(status).toBe(410)
    expect(text).toContain('This link ended by hand on Wed 25 Nov, 06:10.')
    station.service.passHours(3)
    await end()
    const { links } = strictly(
      shareLinksAnswer,
      await station.service.ask(`/api/programs/${program.id}/links`),
    )
    expect(links.find(({ id }) => id === link.id)!.ended).toEqual({
      at: '2026-11-25T06:10:00+10:30',
      byHand: true,
    })
  })

  it('at most after eight weeks', async () => {
    const answer = await station.service.send('POST', `/api/programs/${program.id}/links`, { days: 57 })
    expect(problemOf(answer, 400).field).toBe('days')
    expect((await makeLink({ days: 56 })).link.endsAt).toBe('2027-01-20T06:10:00+10:30')
  })
})

describe('its token', () => {
  it('has 128 bits, is nowhere in the ledger and in no log', async () => {
    const token = path.slice('/shared/'.length)
    expect(Buffer.from(token, 'base64url')).toHaveLength(16)
    await open()
    const { rows } = await sql<{
      all: string
    }>`select json_agg(share_links)::text as all from share_links`.execute(station.ledger)
    expect(rows[0]!.all).not.toContain(token)
    expect(rows[0]!.all).not.toContain(Buffer.from(token, 'base64url').toString('hex'))
    expect(
      JSON.stringify((await station.service.ask(`/api/programs/${program.id}/links`)).json),
    ).not.toContain(token)
    expect(station.service.log.join('\n')).not.toContain(token)
    expect((await station.service.ask('/metrics')).bytes.toString()).not.toContain(token)
  })

  it('that nobody was given opens nothing', async () => {
    for (const token of ['x', path.slice('/shared/'.length).toUpperCase(), '%00', 'a'.repeat(500)])
      expect((await open(`/shared/${token}`)).status).toBe(404)
  })
})
