import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import type { Found, Looked } from '../../../../services/words.ts'
import type { Eye } from '../../../../worker/eye/look.ts'
import { runLook } from '../../../../worker/eye/look-at-files.ts'

/** An eye that reads what it "sees" from the file's own words, the quicker the later the still. */
const models = { name: 'test', version: '1', detectorSha256: '', namerSha256: null }
function camel(score: number): Found {
  const box = [10.4, 20.6, 30, 40] as const
  return { species: 'camel', score, box, detector: [0, score ** 2, 0, 0, 0, 0], namer: null, embedding: null }
}
let delayMs = 30
const eye: Eye = {
  models,
  thresholds: { count: 0.5, flag: 0.35 },
  async look(bytes): Promise<Looked> {
    delayMs /= 2
    await new Promise((done) => setTimeout(done, delayMs))
    const words = Buffer.from(bytes).toString()
    if (words === 'damaged') return { kind: 'unreadable', reason: 'The photo is damaged.' }
    const found = words.split(' ').filter(Boolean).map(Number).map(camel)
    return { kind: 'seen', width: 1280, height: 720, found, models }
  },
  close: async () => {},
}

let folder = ''
beforeEach(async () => {
  delayMs = 30
  folder = await mkdtemp(join(tmpdir(), 'look-'))
})
afterEach(() => rm(folder, { recursive: true }))

async function look(...paths: string[]) {
  const lines: unknown[] = []
  const code = await runLook(
    paths,
    (line) => lines.push(JSON.parse(line)),
    async () => eye,
  )
  return { code, lines }
}

describe('npm run look', () => {
  test('prints what is at or over the flag threshold, and tallies what is at or over the count threshold', async () => {
    const file = join(folder, 'a.jpg')
    await writeFile(file, '0.9 0.5 0.4 0.2')
    const { code, lines } = await look(file)
    expect(code).toBe(0)
    expect(lines).toEqual([
      {
        file,
        width: 1280,
        height: 720,
        found: [0.9, 0.5, 0.4].map((score) => ({ species: 'camel', score, box: [10, 21, 30, 40] })),
        unsure: true,
        tally: { camel: 2 },
      },
    ])
  })

  test('walks folders in name order and prints in that order, however long each look takes', async () => {
    await mkdir(join(folder, 'b'))
    for (const name of ['c.jpg', 'a.jpg', 'b/2.jpg', 'b/1.jpg']) await writeFile(join(folder, name), '')
    const { lines } = await look(folder)
    expect(lines).toMatchObject(
      ['a.jpg', 'b/1.jpg', 'b/2.jpg', 'c.jpg'].map((name) => ({ file: join(folder, name), tally: {} })),
    )
  })

  test('an unreadable file and a missing one get a line each, and the run goes on', async () => {
    const [bad, good, gone] = ['bad.jpg', 'good.jpg', 'gone.jpg'].map((name) => join(folder, name))
    await writeFile(bad ?? '', 'damaged')
    await writeFile(good ?? '', '0.9')
    const { code, lines } = await look(bad ?? '', gone ?? '', good ?? '')
    expect(code).toBe(0)
    expect(lines).toMatchObject([
      { file: bad, error: 'The photo is damaged.' },
      { file: gone, error: 'There is no such file or folder.' },
      { file: good, tally: { camel: 1 } },
    ])
  })

  test('ends with code 1 only when none could be read', async () => {
    expect((await look(join(folder, 'gone.jpg'))).code).toBe(1)
  })

  test('without a path it says what to name', async () => {
    await expect(look()).rejects.toMatchObject({ field: 'FILE-OR-FOLDER' })
  })
})
