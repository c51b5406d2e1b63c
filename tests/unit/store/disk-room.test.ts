/** When the disk is too full for more photos. */
import { expect, test } from 'vitest'
import { roomState, usualReserveBytes } from '../../../services/store/disk-room.ts'

const MIB = 1024 ** 2
const GIB = 1024 ** 3

test('a usual disk holds back 1 GiB', () => {
  expect(usualReserveBytes(30 * GIB)).toBe(GIB)
})
test('a large disk holds back 2 %', () => {
  expect(usualReserveBytes(1000 * GIB)).toBe(20 * GIB)
})
test('a small disk holds back a tenth, so that it can be used at all', () => {
  expect(usualReserveBytes(4000 * MIB)).toBe(400 * MIB)
})
test('the smallest holds back room for two of the largest photos', () => {
  expect(usualReserveBytes(100 * MIB)).toBe(64 * MIB)
})
test('it gets short under twice the reserve, and is full under the reserve', () => {
  expect(roomState(2 * GIB, GIB)).toBe('well')
  expect(roomState(2 * GIB - 1, GIB)).toBe('low')
  expect(roomState(GIB, GIB)).toBe('low')
  expect(roomState(GIB - 1, GIB)).toBe('full')
})
test('without a reserve it is never called full', () => {
  expect(roomState(0, 0)).toBe('well')
})
