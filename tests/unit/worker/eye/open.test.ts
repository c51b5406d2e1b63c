import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { modelsFolder } from '../../../../services/paths.ts'
import { keepPlan, readKeptPlan } from '../../../../worker/eye/kept-plan.ts'
import { openPlannedEyes } from '../../../../worker/eye/open.ts'
import { UNSET } from '../../../../worker/eye/settings.ts'

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'plan-'))
})
afterAll(() => rm(folder, { recursive: true }))

const PLAN = { eyeThreads: 1, onnxThreads: 1, stillsInFlight: 3 }

describe('the plan of the eye', () => {
  test('all set: nothing is measured', async () => {
    const settings = { ...PLAN, providers: ['cpu'] }
    const { eyes, plan } = await openPlannedEyes({ modelsFolder, settings, measureMs: 60_000 })
    expect(plan).toEqual({ ...PLAN, providers: ['cpu'], from: 'set', tried: [] })
    expect(eyes.atOnce()).toBe(3)
    await eyes.close()
  })

  test('unset, plans are tried before the eye is ready, and the chosen one is one of them', async () => {
    const { eyes, plan } = await openPlannedEyes({
      modelsFolder,
      settings: { ...UNSET, eyeThreads: 1 },
      measureMs: 60_000,
    })
    expect(plan.tried.length).toBeGreaterThan(0)
    for (const one of plan.tried) expect(one.stillsPerSecond).toBeGreaterThan(0)
    expect(plan.tried).toContainEqual(
      expect.objectContaining({ eyeThreads: plan.eyeThreads, stillsInFlight: plan.stillsInFlight }),
    )
    expect(eyes.atOnce()).toBe(plan.stillsInFlight)
    await eyes.close()
  })

  test('a plan that was kept is taken again while models, machine and settings are the same', async () => {
    const file = join(folder, 'kept.json')
    await keepPlan(file, 'these', PLAN)
    expect(await readKeptPlan(file, 'these')).toEqual(PLAN)
    expect(await readKeptPlan(file, 'those')).toBe(null)
  })

  test('a kept plan that is broken or not there is no plan', async () => {
    const file = join(folder, 'broken.json')
    await writeFile(file, '{"of": "these", "eyeThreads": 0, "onnxThreads": 1, "stillsInFlight": 1}')
    expect(await readKeptPlan(file, 'these')).toBe(null)
    await writeFile(file, '{')
    expect(await readKeptPlan(file, 'these')).toBe(null)
    expect(await readKeptPlan(join(folder, 'none.json'), 'these')).toBe(null)
    expect(await readFile(file, 'utf8')).toBe('{')
  })

  test('a provider that the runtime does not know is refused with the names of those there are', async () => {
    const settings = { ...UNSET, providers: ['abacus'] }
    await expect(openPlannedEyes({ modelsFolder, settings })).rejects.toMatchObject({
      field: 'HOOFTALLY_PROVIDERS',
      message: expect.stringContaining('abacus'),
      remedy: expect.stringContaining('cpu'),
    })
  })

  test('a provider whose libraries are not installed is refused, not waited for', async () => {
    // The runtime knows it on this platform; the package's own libraries of it are left out (.npmrc).
    const settings = { ...PLAN, providers: ['tensorrt'] }
    await expect(openPlannedEyes({ modelsFolder, settings })).rejects.toMatchObject({
      field: 'HOOFTALLY_PROVIDERS',
      remedy: expect.stringContaining('Install what the provider needs'),
    })
  })
})
