import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp from 'sharp'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { demoStillsFolder, modelsFolder } from '../../../../services/paths.ts'
import { createEye, type Eye } from '../../../../worker/eye/look.ts'
import { intersectionOverUnion } from '../../../../worker/eye/suppress.ts'

let eye: Eye
let still: Buffer
beforeAll(async () => {
  eye = await createEye({ modelsFolder })
  // models/reference.json: two camels, 0.953 and 0.943, at [673, 238, 793, 398] and [183, 315, 393, 555]
  still = await readFile(join(demoStillsFolder, 'galah-well-08.jpg'))
})
afterAll(() => eye.close())

async function counted(by: Eye, bytes: Buffer) {
  const looked = await by.look(bytes)
  if (looked.kind === 'unreadable') throw new Error(looked.reason)
  return { ...looked, found: looked.found.filter(({ score }) => score >= by.thresholds.count) }
}

describe('a look', () => {
  test('gives boxes in pixels of the still, best first, with both models’ scores', async () => {
    const { width, height, found } = await counted(eye, still)
    expect([width, height]).toEqual([1280, 720])
    expect(found.map(({ species }) => species)).toEqual(['camel', 'camel'])
    expect(found[0]?.score).toBeGreaterThanOrEqual(found[1]?.score ?? 1)
    for (const { detector, namer, embedding } of found) {
      expect(detector.length).toBe(6)
      expect(namer?.reduce((sum, score) => sum + score, 0)).toBeCloseTo(1, 4)
      expect(embedding?.length).toBe(1280)
    }
  })

  test('a large still, reduced while it is decoded, gives the same animals at its own scale', async () => {
    const large = await sharp(still).resize(2560, 1440).jpeg({ quality: 95 }).toBuffer()
    const { width, found } = await counted(eye, large)
    expect(width).toBe(2560)
    for (const box of [
      [1346, 476, 1586, 796],
      [366, 630, 786, 1110],
    ] as const)
      expect(found.some((one) => one.species === 'camel' && intersectionOverUnion(one.box, box) >= 0.8)).toBe(
        true,
      )
  })

  test('a still turned by its camera is looked at upright', async () => {
    const turned = await sharp(still).rotate(-90).withMetadata({ orientation: 6 }).jpeg().toBuffer()
    expect((await sharp(turned).metadata()).width).toBe(720)
    const { width, height, found } = await counted(eye, turned)
    expect([width, height]).toEqual([1280, 720])
    expect(found.map(({ species }) => species)).toEqual(['camel', 'camel'])
  })

  test('a still that cannot be read is an answer, not an error, and the next one is looked at', async () => {
    const cut = still.subarray(0, still.length / 2)
    const [bad, good] = await Promise.all([eye.look(cut), eye.look(still)])
    expect(bad).toEqual({ kind: 'unreadable', reason: expect.stringContaining('damaged or cut short') })
    expect(good.kind).toBe('seen')
  })

  test('a single pixel is a still too: nothing is in it', async () => {
    const dot = await sharp({ create: { width: 1, height: 1, channels: 3, background: 'grey' } })
      .png()
      .toBuffer()
    expect((await counted(eye, dot)).found).toEqual([])
  })

  test('a detector alone finds and names by itself', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'detector-alone-'))
    await cp(modelsFolder, folder, { recursive: true })
    const file = join(folder, 'manifest.json')
    const { namer: _, ...manifest } = JSON.parse(await readFile(file, 'utf8')) as Record<string, unknown>
    await writeFile(file, JSON.stringify(manifest))
    await rm(join(folder, 'namer.onnx'))
    const alone = await createEye({ modelsFolder: folder })
    const { found, models } = await counted(alone, still)
    expect(models.namerSha256).toBeNull()
    expect(found[0]).toMatchObject({ species: 'camel', namer: null, embedding: null })
    await alone.close()
    await rm(folder, { recursive: true })
  })
})
