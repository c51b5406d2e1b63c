/** The figures of the models' card on screen are those of the card. */
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { readModelFigures } from '../../services/model-figures.ts'
import { modelsFolder } from '../../services/paths.ts'
import { readModels } from '../../worker/eye/manifest.ts'

test('each set and each number stands in the card of the models that are here', async () => {
  const figures = await readModelFigures(modelsFolder)
  const { identity } = await readModels(modelsFolder)
  expect(figures?.model).toEqual({ name: identity.name, version: identity.version })
  const rows = (await readFile(join(modelsFolder, 'CARD.md'), 'utf8')).split('\n')
  expect(figures?.sets.length).toBeGreaterThan(0)
  for (const { name, right } of figures?.sets ?? []) {
    const row = rows.find((line) => line.startsWith(`| ${name} |`))
    expect(row, name).toBeDefined()
    for (const [species, [hits, of]] of Object.entries(right))
      expect(row, name).toContain(`${species} ${hits} of ${of}`)
  }
})

test('models that came without figures have none, and a file that is something else is said', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'hooftally-figures-'))
  try {
    expect(await readModelFigures(folder)).toBeNull()
    await writeFile(join(folder, 'figures.json'), '{"model": "mine"}')
    await expect(readModelFigures(folder)).rejects.toThrow()
  } finally {
    await rm(folder, { recursive: true })
  }
})
