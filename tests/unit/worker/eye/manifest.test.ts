import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { modelsFolder } from '../../../../services/paths.ts'
import { readModels } from '../../../../worker/eye/manifest.ts'

let folder = ''
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'models-'))
  await cp(modelsFolder, folder, { recursive: true })
})
afterEach(() => rm(folder, { recursive: true }))

type Json = Record<string, Record<string, unknown>>
async function change(edit: (manifest: Json) => void): Promise<void> {
  const file = join(folder, 'manifest.json')
  const manifest = JSON.parse(await readFile(file, 'utf8')) as Json
  edit(manifest)
  await writeFile(file, JSON.stringify(manifest))
}

describe('the models’ folder', () => {
  test('as it comes: sizes, columns and the numbers of the pooling sentences', async () => {
    const models = await readModels(folder)
    expect(models.detector).toMatchObject({ widthPx: 640, heightPx: 384, columnCount: 10 })
    expect(models.detector.scoreColumns).toEqual([4, 5, 6, 7, 8, 9])
    expect(models.namer).toMatchObject({ sidePx: 224, cropScale: 1.12, embeddingLength: 1280 })
    expect(models.pooling).toEqual({ floor: 0.12, overlapLimit: 0.5, insideLimit: 0.85 })
    expect(models.thresholds).toEqual({ count: 0.5, flag: 0.35 })
  })

  test('a changed model is refused by name, with a remedy', async () => {
    await writeFile(join(folder, 'namer.onnx'), 'something else')
    await expect(readModels(folder)).rejects.toMatchObject({
      kind: 'unavailable',
      field: 'namer.onnx',
      message: expect.stringContaining('namer.onnx has changed'),
      remedy: expect.stringContaining('Put back the folder'),
    })
  })

  test('a missing model is refused by name', async () => {
    await rm(join(folder, 'detector.onnx'))
    await expect(readModels(folder)).rejects.toThrow('detector.onnx is missing')
  })

  test('a folder without a manifest, or with one that is no JSON, is refused', async () => {
    await writeFile(join(folder, 'manifest.json'), '{')
    await expect(readModels(folder)).rejects.toThrow('manifest.json is not JSON')
    await rm(join(folder, 'manifest.json'))
    await expect(readModels(folder)).rejects.toThrow('manifest.json is missing')
  })

  test('a station may bring a detector alone', async () => {
    await change((manifest) => delete manifest.namer)
    const models = await readModels(folder)
    expect(models.namer).toBeNull()
    expect(models.identity.namerSha256).toBeNull()
  })

  test('another floor in the sentence is another floor', async () => {
    await change(({ pooling }) =>
      Object.assign(pooling ?? {}, { found: 'boxes with p under 0.2 are dropped' }),
    )
    expect((await readModels(folder)).pooling.floor).toBe(0.2)
  })

  test('a pooling rule the eye does not know is refused, not guessed at', async () => {
    await change(({ pooling }) => Object.assign(pooling ?? {}, { name: 'q(s) = namer(s)' }))
    await expect(readModels(folder)).rejects.toThrow('field pooling.name')
  })

  test('a model outside the folder is refused', async () => {
    await change(({ detector }) => Object.assign(detector ?? {}, { file: '../detector.onnx' }))
    await expect(readModels(folder)).rejects.toThrow('field detector.file')
  })
})
