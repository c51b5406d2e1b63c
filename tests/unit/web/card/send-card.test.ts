import { describe, expect, test } from 'vitest'
import { BEFORE_PUT_UP } from '../../../../services/tally/placing.ts'
import { Failed } from '../../../../web/api/ask.ts'
import type { CardFile } from '../../../../web/screens/card/card-files.ts'
import {
  type CardPhotoTold,
  type CardPost,
  type CardProgress,
  sendCard,
} from '../../../../web/screens/card/send-card.ts'

const failure = (status: number | null) =>
  new Failed({ what: `status ${status}`, remedy: '', field: null, status })

/** What is in a file is its name; `at` is when it was taken. */
function fileOf(path: string): CardFile {
  const bytes = new TextEncoder().encode(path)
  const blob = new Blob([bytes])
  return { path, file: Object.assign(blob, { name: path, lastModified: 0 }) as unknown as CardFile['file'] }
}

const textOf = (bytes: ArrayBuffer) => new TextDecoder().decode(bytes)

interface Service {
  readonly post: CardPost
  /** Every file that was sent, in order. */
  readonly sent: string[]
  /** What the service has. */
  readonly has: Set<string>
  waits: number
}

function service({
  knows = [],
  hashes = true,
  fails = () => null,
  photo = () => ({}),
}: {
  readonly knows?: readonly string[]
  readonly hashes?: boolean
  /** The status with which a sending fails, before it comes in; null: it goes through. */
  readonly fails?: (path: string, tries: number) => number | null | 'no answer' | 'answer lost'
  readonly photo?: (path: string) => Partial<CardPhotoTold>
} = {}): Service {
  const has = new Set(knows)
  const sent: string[] = []
  const tries = new Map<string, number>()
  const told = (path: string, known: boolean): CardPhotoTold => ({
    ...{ id: 1, state: 'received', reason: null, takenAt: '2026-11-24T20:00:00+10:30', takenFrom: 'exif' },
    ...{ clockDoubt: null, known, smallUrl: '' },
    ...photo(path),
  })
  const made: Service = {
    sent,
    has,
    waits: 0,
    post: {
      hashOf: hashes ? async (bytes) => `hash of ${textOf(bytes)}` : null,
      known: async (asked) => ({
        known: asked.flatMap((hash) => {
          const path = hash.replace('hash of ', '')
          return has.has(path) ? [{ hash, photo: told(path, true) }] : []
        }),
      }),
      send: async ({ path }, bytes) => {
        expect(textOf(bytes)).toBe(path)
        sent.push(path)
        const count = (tries.get(path) ?? 0) + 1
        tries.set(path, count)
        const status = fails(path, count)
        if (status === 'answer lost') has.add(path)
        if (status === 'no answer' || status === 'answer lost') throw failure(null)
        if (status !== null) throw failure(status)
        const known = has.has(path)
        has.add(path)
        return { photo: told(path, known) }
      },
      wait: async () => {
        made.waits += 1
      },
    },
  }
  return made
}

const names = (count: number) =>
  Array.from({ length: count }, (_, i) => `DCIM/${String(i).padStart(3, '0')}.jpg`)
const put = (made: Service, paths: readonly string[], signal = new AbortController().signal) => {
  const told: CardProgress[] = []
  const done = sendCard(paths.map(fileOf), made.post, { told: (progress) => told.push(progress), signal })
  return { told, done }
}

describe('a card', () => {
  test('of which nothing came before is sent whole, each file once', async () => {
    const made = service()
    expect(await put(made, names(20)).done).toMatchObject({ total: 20, done: 20, fresh: 20, known: 0 })
    expect(made.sent.toSorted()).toEqual(names(20))
  })
  test('of which a part is in is sent from there on', async () => {
    const made = service({ knows: names(13) })
    expect(await put(made, names(20)).done).toMatchObject({ done: 20, fresh: 7, known: 13 })
    expect(made.sent.toSorted()).toEqual(names(20).slice(13))
  })
  test('where nothing can be asked beforehand is sent whole, and told as known', async () => {
    const made = service({ knows: names(3), hashes: false })
    expect(await put(made, names(5)).done).toMatchObject({ fresh: 2, known: 3 })
    expect(made.sent).toHaveLength(5)
  })
  test('two files with the same bytes are one photo', async () => {
    const made = service()
    expect(await put(made, ['a.jpg', 'a.jpg']).done).toMatchObject({ done: 2, fresh: 1, known: 1 })
  })
})

describe('a link that is lost', () => {
  test('is waited for, and it goes on where it was', async () => {
    const made = service({
      fails: (path, tries) => (path.endsWith('4.jpg') && tries < 4 ? 'no answer' : null),
    })
    const { told, done } = put(made, names(9))
    expect(await done).toMatchObject({ done: 9, fresh: 9, failed: [], waits: null })
    expect(told.some(({ waits }) => waits !== null)).toBe(true)
    expect(made.waits).toBe(3)
    expect(made.has.size).toBe(9)
  })
  test('an answer that is lost makes no second photo', async () => {
    const made = service({ fails: (_path, tries) => (tries === 1 ? 'answer lost' : null) })
    expect(await put(made, names(4)).done).toMatchObject({ done: 4, fresh: 0, known: 4 })
  })
  test.each([408, 429, 500, 502, 503, 504])('a service that answers %i is waited for', async (status) => {
    const made = service({ fails: (_path, tries) => (tries === 1 ? status : null) })
    expect(await put(made, names(2)).done).toMatchObject({ done: 2, fresh: 2, failed: [] })
  })
  test('stopped while it waits, it ends, and what was not sent is not told as sent', async () => {
    const stop = new AbortController()
    const made = service({ fails: () => 'no answer' })
    made.post.wait = async () => stop.abort()
    expect(await put(made, names(3), stop.signal).done).toMatchObject({ done: 0, fresh: 0, failed: [] })
  })
})

describe('what is not taken', () => {
  test('is told by its name, and the others come in', async () => {
    const made = service({ fails: (path) => (path === 'b.jpg' ? 413 : null) })
    const { failed, ...progress } = await put(made, ['a.jpg', 'b.jpg', 'c.jpg']).done
    expect(progress).toMatchObject({ done: 3, fresh: 2 })
    expect(failed).toEqual([{ path: 'b.jpg', why: 'status 413' }])
  })
  test('a file that the card does not give', async () => {
    const made = service()
    const bad: CardFile = {
      path: 'bad.jpg',
      file: { ...fileOf('bad.jpg').file, arrayBuffer: () => Promise.reject(new Error('gone')) },
    }
    const progress = await sendCard([bad, fileOf('good.jpg')], made.post, {
      told: () => undefined,
      signal: new AbortController().signal,
    })
    expect(progress).toMatchObject({ done: 2, fresh: 1, failed: [{ path: 'bad.jpg' }] })
  })
  test('a full disk ends it: nothing more is tried', async () => {
    const made = service({ fails: (path) => (path.endsWith('2.jpg') ? 507 : null) })
    const progress = await put(made, names(20)).done
    expect(progress.halted).toMatchObject({ status: 507 })
    expect(progress.done).toBeLessThan(20)
    expect(progress.failed).toEqual([])
    expect(made.sent.length).toBeLessThan(8)
  })
})

describe('over what span', () => {
  const at = (takenAt: string, more: Partial<CardPhotoTold> = {}) => ({ takenAt, ...more })
  const photos: Readonly<Record<string, Partial<CardPhotoTold>>> = {
    'a.jpg': at('2026-11-24T20:00:00+10:30'),
    'b.jpg': at('2026-10-01T20:00:00+09:30', { clockDoubt: BEFORE_PUT_UP }),
    'c.jpg': at('2090-01-01T00:00:00+10:30', { clockDoubt: 'the clock is in the future' }),
    'd.jpg': at('2020-01-01T00:00:00+10:30', { state: 'unreadable' }),
  }
  test('it was: not by clocks in doubt nor by what can’t be read, but by what only the camera’s times speak against', async () => {
    const made = service({ photo: (path) => photos[path] ?? {} })
    expect(await put(made, Object.keys(photos)).done).toMatchObject({
      span: { first: '2026-10-01T20:00:00+09:30', last: '2026-11-24T20:00:00+10:30' },
      unreadable: 1,
      doubtful: 2,
    })
  })
})
