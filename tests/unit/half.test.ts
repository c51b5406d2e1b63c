import { Float16Array } from '@petamoriken/float16'
import { expect, it } from 'vitest'
import { fromHalf, toHalf } from '../../services/half.ts'

// Patterns and values of IEEE 754-2019, 3.6, binary16 (from memory).
it.each([
  [0x0000, 0],
  [0x3c00, 1],
  [0xc000, -2],
  [0x7bff, 65504],
  [0x0001, 2 ** -24],
  [0x3555, 0.333251953125],
])('the pattern %i is %d', (bits, value) => {
  const bytes = Buffer.alloc(2)
  bytes.writeUInt16LE(bits)
  expect([...fromHalf(bytes)]).toEqual([value])
  expect(toHalf(Float32Array.of(value))).toEqual(bytes)
})

it('every number comes back as it went, also from a buffer that begins at an odd byte', () => {
  const bits = Uint16Array.from({ length: 2 ** 16 }, (_, i) => i)
  const shifted = Buffer.concat([Buffer.alloc(1), Buffer.from(bits.buffer)]).subarray(1)
  expect(fromHalf(shifted)).toEqual(Float32Array.from(new Float16Array(bits.buffer)))
})

it('half a number is refused', () => {
  expect(() => fromHalf(Buffer.alloc(3))).toThrow(RangeError)
})

// Against Float16Array of @petamoriken/float16, which follows the draft that became ECMAScript 2025, 23.2.
it('rounds as Float16Array does: between neighbours, at the ends, and for numbers that are none', () => {
  const bits = Uint16Array.from({ length: 0x7c00 }, (_, i) => i)
  const sizes = Float32Array.from(new Float16Array(bits.buffer))
  const near = [...sizes].flatMap((size, i) => {
    const next = sizes[i + 1] ?? 65536
    const middle = (size + next) / 2
    return [size, middle, middle * (1 + 2 ** -22), middle * (1 - 2 ** -22)].flatMap((one) => [one, -one])
  })
  const numbers = Float32Array.from([...near, Infinity, -Infinity, NaN, 1e30, 2 ** -25, 2 ** -26, 2 ** -140])
  expect(Buffer.compare(toHalf(numbers), Buffer.from(new Float16Array(numbers).buffer))).toBe(0)
})

it('takes a part of a larger array', () => {
  expect(toHalf(Float32Array.of(5, 1, -2).subarray(1))).toEqual(Buffer.from([0x00, 0x3c, 0x00, 0xc0]))
})
