/** Held against the rendered stills of ten fixed cameras, by day and in infra-red, and the same stills spoilt. */
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import sharp, { type Sharp } from 'sharp'
import { beforeAll, describe, expect, it } from 'vitest'
import { z } from 'zod'
import { demoStillsFolder } from '../../../services/paths.ts'
import {
  type LensWord,
  lensPast,
  lensWord,
  type MeasuredView,
  missedShare,
} from '../../../services/tally/lens.ts'
import { wholePicture } from '../../../worker/eye/whole-picture.ts'

const WIDTH = 640
const HEIGHT = 360
const STILL = { width: 1280, height: 720 }

interface CameraStills {
  readonly light: 'day' | 'night'
  readonly files: readonly string[]
  readonly seen: readonly MeasuredView[]
}
let cameras: CameraStills[]

async function measured(picture: Sharp): Promise<MeasuredView> {
  const data = await picture
    .removeAlpha()
    .toColourspace('srgb')
    .resize(WIDTH, HEIGHT, { fit: 'fill' })
    .raw()
    .toBuffer()
  return wholePicture(
    { data, width: WIDTH, height: HEIGHT },
    { left: 0, top: 0, width: WIDTH, height: HEIGHT },
  )
}
const open = (file: string) => sharp(join(demoStillsFolder, file))

beforeAll(async () => {
  const truth = z
    .record(z.string(), z.object({ point: z.string(), light: z.enum(['day', 'night']) }))
    .parse(JSON.parse(await readFile(join(demoStillsFolder, 'truth.json'), 'utf8')))
  const groups = new Map<string, string[]>()
  for (const [file, { point, light }] of Object.entries(truth)) {
    const group = `${point} ${light}`
    groups.set(group, [...(groups.get(group) ?? []), file])
  }
  cameras = await Promise.all(
    [...groups].map(async ([group, files]) => {
      const seen = await Promise.all(files.map((file) => measured(open(file))))
      return { light: group.endsWith('night') ? 'night' : 'day', files, seen } as const
    }),
  )
}, 60_000)

/** Each still, changed or not, against the others of its camera in its light. */
async function words(
  change: ((file: string) => Promise<Sharp> | Sharp) | null,
  light: 'day' | 'night',
): Promise<LensWord[]> {
  const found: LensWord[] = []
  const missed: number[] = []
  for (const { files, seen } of cameras.filter((one) => one.light === light)) {
    for (const [i, file] of files.entries()) {
      const past = lensPast(seen.filter((_, other) => other !== i))
      const now = change === null ? seen[i]! : await measured(await change(file))
      found.push(lensWord(now, past))
      missed.push(missedShare(now, past))
    }
  }
  missed.sort((a, b) => a - b)
  const share = (at: number) => missed[Math.floor(at * (missed.length - 1))]!.toFixed(2)
  process.stdout.write(`background missed, ${light}: ${share(0)} to ${share(1)}, mostly ${share(0.5)}\n`)
  return found
}

const shareOf = (found: readonly LensWord[], word: LensWord) =>
  found.filter((one) => one === word).length / found.length

describe.each(['day', 'night'] as const)('a camera by %s', (light) => {
  it('that sees is called neither blind nor knocked, whatever stands before it', async () => {
    expect(shareOf(await words(null, light), 'sees')).toBe(1)
  })

  it.each([
    ['behind a web or a smear', (file: string) => open(file).blur(8)],
    ['behind dust', (file: string) => open(file).blur(5).linear(0.4, 120)],
    ['in a white sun', (file: string) => open(file).linear(0.05, 240)],
    ['in the dark without its lamp', (file: string) => open(file).linear(0.02, 0)],
  ])('%s is blind', async (_why, change) => {
    expect(shareOf(await words(change, light), 'blind')).toBe(1)
  })

  it('turned away by a fifth of its view, or tilted, is knocked', async () => {
    const away = (file: string) =>
      open(file).extract({ left: 256, top: 0, width: STILL.width - 256, height: STILL.height })
    const tilted = async (file: string) => {
      const turned = await open(file).rotate(20).toBuffer({ resolveWithObject: true })
      const [width, height] = [1000, 562]
      const left = Math.round((turned.info.width - width) / 2)
      const top = Math.round((turned.info.height - height) / 2)
      return sharp(turned.data).extract({ left, top, width, height })
    }
    for (const change of [away, tilted]) {
      const found = await words(change, light)
      expect(shareOf(found, 'blind')).toBeLessThan(0.02)
      expect(shareOf(found, 'knocked')).toBeGreaterThan(0.95)
    }
  })
})

it('a knock by a tenth of the width shows by day; in infra-red, where half the view is black, often not', async () => {
  const away = (file: string) =>
    open(file).extract({ left: 128, top: 0, width: STILL.width - 128, height: STILL.height })
  expect(shareOf(await words(away, 'day'), 'knocked')).toBeGreaterThan(0.95)
  expect(shareOf(await words(away, 'night'), 'knocked')).toBeGreaterThan(0.4)
})

it('has no past without photos', () => {
  expect(() => lensPast([])).toThrow(RangeError)
})
