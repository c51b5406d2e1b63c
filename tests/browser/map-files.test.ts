/** GPX and KML as another program reads them: a browser's own XML parser, which shares no code with this project. */
import { afterAll, describe, expect, test } from 'vitest'
import { gpxOf } from '../../services/planning/exports/gpx.ts'
import { kmlOf } from '../../services/planning/exports/kml.ts'
import type { Instant } from '../../services/words.ts'
import { openBrowser, openPage } from './browser.ts'

const opened = await openBrowser()
const why = 'why' in opened ? ` (skipped: ${opened.why})` : ''
const NASTY = 'a & b <c> "d" \u0000\u0001\ufffe\ud800 é 🐪 ]]>'
/** What is left of it: the characters that XML 1.0 allows. */
const KEPT = 'a & b <c> "d"  é 🐪 ]]>'

const things = {
  name: NASTY,
  madeAt: 0 as Instant,
  places: [{ lat: -28.373, lon: 134.241, name: NASTY, text: NASTY }],
  round: {
    name: NASTY,
    places: [
      { lat: -28.4, lon: 134.2, name: NASTY, text: null },
      { lat: -28.373, lon: 134.241, name: 'x', text: null },
    ],
  },
  areas: [
    {
      name: NASTY,
      text: NASTY,
      corners: [
        { lat: -28, lon: 134 },
        { lat: -29, lon: 134 },
        { lat: -29, lon: 135 },
      ],
    },
  ],
}

describe.skipIf(why !== '')(`files for maps in a browser${why}`, () => {
  afterAll(async () => {
    if ('browser' in opened) await opened.browser.close()
  })

  test.each([
    ['GPX', gpxOf(things), 'http://www.topografix.com/GPX/1/1', ['wpt', 'rte', 'rtept', 'rtept']],
    ['KML', kmlOf(things), 'http://www.opengis.net/kml/2.2', ['Placemark', 'Placemark', 'Placemark']],
  ])('%s is well formed, in its namespace, with every name', async (_, file, namespace, elements) => {
    if ('why' in opened) return
    const page = await openPage(opened.browser, { width: 390 })
    const read = await page.evaluate((xml) => {
      const document = new DOMParser().parseFromString(xml, 'application/xml')
      const every = [...document.getElementsByTagName('*')]
      return {
        wrong: document.querySelector('parsererror')?.textContent ?? null,
        namespace: document.documentElement.namespaceURI,
        names: every.map(({ localName }) => localName),
        texts: every.filter(({ localName }) => localName === 'name').map(({ textContent }) => textContent),
      }
    }, file)
    await page.context().close()
    expect(read.wrong).toBeNull()
    expect(read.namespace).toBe(namespace)
    expect(read.names.filter((name) => elements.includes(name))).toEqual(elements)
    expect(new Set(read.texts)).toEqual(new Set(_ === 'GPX' ? [KEPT, 'x'] : [KEPT]))
  })
})
