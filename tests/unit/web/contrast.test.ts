/** Ink on its ground, by day and by night: at least 4.5 to 1 (WCAG 2.2, 1.4.3), bars at least 3 to 1 (1.4.11). */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { projectFolder } from '../../../services/paths.ts'

const css = readFileSync(join(projectFolder, 'web', 'style', 'ground.css'), 'utf8')

/** The colours of a time of day: each stands once as `light-dark(#..., #...)`. */
function coloursBy(time: 'day' | 'night'): Readonly<Record<string, string>> {
  const pairs = [...css.matchAll(/--([\w-]+): light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\);/g)]
  return Object.fromEntries(pairs.map(([, name, light, dark]) => [name, time === 'day' ? light : dark]))
}

/** Relative luminance, 0 to 1 (WCAG 2.2, definition of relative luminance). */
function luminance(hex: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
    const channel = Number.parseInt(hex.slice(at, at + 2), 16) / 255
    return channel <= 0.04045 ? channel / 12.92 : ((channel + 0.055) / 1.055) ** 2.4
  })
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue
}

function contrast(one: string, other: string): number {
  const [light = 0, dark = 0] = [luminance(one), luminance(other)].sort((a, b) => b - a)
  return (light + 0.05) / (dark + 0.05)
}

const INK_ON_GROUND = [
  ['ink', 'ground'],
  ['ink', 'surface'],
  ['ink-soft', 'ground'],
  ['ink-soft', 'surface'],
  ['link', 'ground'],
  ['link', 'surface'],
  ['band-ink', 'band'],
  ['strong-ink', 'strong'],
  ['strong', 'surface'],
  ['alarm', 'alarm-ground'],
  ['alarm', 'surface'],
  ['look', 'look-ground'],
  ['well', 'well-ground'],
  ['well', 'ground'],
  ['unknown', 'surface'],
  ['unknown', 'ground'],
  ['unknown', 'hatch'],
] as const

const BARS = ['cattle', 'camel', 'horse', 'donkey', 'goat'] as const

test('black on white is 21 to 1', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 10)
})

describe.each(['day', 'night'] as const)('by %s', (time) => {
  const colours = coloursBy(time)

  test.each(INK_ON_GROUND)('%s on %s can be read', (ink, ground) => {
    expect(contrast(colours[ink] ?? '', colours[ground] ?? '')).toBeGreaterThanOrEqual(4.5)
  })

  test.each(BARS)('a bar of %s stands out', (species) => {
    expect(contrast(colours[species] ?? '', colours.surface ?? '')).toBeGreaterThanOrEqual(3)
  })
})

test('every colour has one by day and one by night', () => {
  const named = [...css.matchAll(/--([\w-]+):/g)].map((found) => found[1])
  expect(named).toEqual(Object.keys(coloursBy('night')))
})
