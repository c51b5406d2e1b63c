/** What is said of keeping photos and of a full disk. */
import { expect, test } from 'vitest'
import { lastRunWords, previewWords, roomWords } from '../../../web/text/keeping.ts'
import { diskWords } from '../../../web/text/setup.ts'

const MIB = 1024 ** 2
const GIB = 1024 ** 3

test('what a rule would free is said in photos and in room', () => {
  expect(previewWords({ photos: 3, bytes: 12 * MIB }, 'drop')).toBe(
    'Today 3 photos would go, and 12 MB be free again.',
  )
})
test('what small pictures will take is worked out, and said so', () => {
  expect(previewWords({ photos: 1, bytes: 2 * GIB }, 'shrink')).toBe(
    'Today 1 photo would go, and about 2.0 GB be free again.',
  )
})
test('nothing to free is said, not shown as 0', () => {
  expect(previewWords({ photos: 0, bytes: 0 }, 'drop')).toBe('No photo would go today.')
  expect(previewWords({ photos: 0, bytes: 0 }, 'keep')).toContain('Every photo is kept')
})
test('the last run says when and what', () => {
  expect(lastRunWords({ at: '2026-11-25T06:10:00+10:30', photos: 2, bytes: 5 * MIB })).toMatch(
    /06:10.*2 photos went, 5 MB freed/,
  )
})
test('a disk with room needs no words; a full one says that photos do not come in and what to do', () => {
  expect(roomWords('well')).toBeNull()
  expect(roomWords('low')?.what).toContain('getting full')
  expect(roomWords('full')).toMatchObject({
    what: expect.stringContaining('not coming in'),
    remedy: expect.stringContaining('safe'),
  })
})
test('Health says how much is held back where it gets short', () => {
  const disk = { ok: false, freeBytes: GIB, reserveBytes: 2 * GIB, stillsBytes: 3 * GIB }
  expect(diskWords({ ...disk, room: 'full' })).toBe(
    '1.0 GB free, photos take 3.0 GB: full, 2.0 GB are held back, no photo is taken',
  )
  expect(diskWords({ ...disk, ok: true, room: 'well' })).toBe('1.0 GB free, photos take 3.0 GB')
})
