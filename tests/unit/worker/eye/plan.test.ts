import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { plansFor, withMoreInFlight } from '../../../../worker/eye/plan.ts'
import { type EyeSettings, readEyeSettings, UNSET } from '../../../../worker/eye/settings.ts'

const GIGABYTE = 1e9
const machine = (cores: number, gigabytes = 64) => ({ cores, memoryBytes: gigabytes * GIGABYTE })
const set = (settings: Partial<EyeSettings>): EyeSettings => ({ ...UNSET, ...settings })

describe('plans for a machine', () => {
  test('two cores: two eyes of one core each first, then one eye of two', () => {
    expect(plansFor(machine(2), UNSET)).toEqual([
      { eyeThreads: 2, onnxThreads: 1, stillsInFlight: 4 },
      { eyeThreads: 1, onnxThreads: 2, stillsInFlight: 2 },
    ])
  })

  test('one core leaves nothing to choose but the stills in flight', () => {
    const [only, ...others] = plansFor(machine(1), UNSET)
    expect(others).toEqual([])
    expect(only && withMoreInFlight(only, UNSET)).toEqual({
      eyeThreads: 1,
      onnxThreads: 1,
      stillsInFlight: 3,
    })
  })

  test('many cores with little memory: few eyes, whose runs share the cores', () => {
    const [usual] = plansFor(machine(8, 1), UNSET)
    expect(usual).toEqual({ eyeThreads: 1, onnxThreads: 8, stillsInFlight: 2 })
  })

  test('what is set is in every plan, and all set is one plan', () => {
    expect(plansFor(machine(4), set({ eyeThreads: 3, onnxThreads: 2, stillsInFlight: 5 }))).toEqual([
      { eyeThreads: 3, onnxThreads: 2, stillsInFlight: 5 },
    ])
    expect(plansFor(machine(4), set({ onnxThreads: 2 }))).toEqual([
      { eyeThreads: 2, onnxThreads: 2, stillsInFlight: 4 },
    ])
    expect(
      withMoreInFlight({ eyeThreads: 2, onnxThreads: 1, stillsInFlight: 7 }, set({ stillsInFlight: 7 })),
    ).toBe(null)
  })

  test('an accelerator is fed by two eyes at most', () => {
    const plans = plansFor(machine(16), set({ providers: ['cuda', 'cpu'] }))
    expect(plans.map(({ eyeThreads, onnxThreads }) => [eyeThreads, onnxThreads])).toEqual([
      [2, 1],
      [1, 1],
    ])
  })

  test('unless set, no plan runs more threads than there are cores', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 256 }), fc.integer({ min: 1, max: 1024 }), (cores, gigabytes) => {
        const plans = plansFor(machine(cores, gigabytes), UNSET)
        expect(plans.length).toBeGreaterThan(0)
        for (const { eyeThreads, onnxThreads, stillsInFlight } of plans) {
          expect(eyeThreads * onnxThreads).toBeLessThanOrEqual(cores)
          expect(stillsInFlight).toBeGreaterThanOrEqual(eyeThreads)
        }
      }),
    )
  })
})

describe('settings of the eye', () => {
  test('left out, the processor does the work and the rest is found at the start', () => {
    expect(readEyeSettings({})).toEqual({ providers: ['cpu'] })
  })

  test('are read from the environment', () => {
    expect(
      readEyeSettings({
        HOOFTALLY_EYE_THREADS: '4',
        HOOFTALLY_ONNX_THREADS: '2',
        HOOFTALLY_STILLS_IN_FLIGHT: '12',
        HOOFTALLY_PROVIDERS: 'cuda,cpu',
      }),
    ).toEqual({ eyeThreads: 4, onnxThreads: 2, stillsInFlight: 12, providers: ['cuda', 'cpu'] })
  })

  test.each([
    ['HOOFTALLY_EYE_THREADS', '0'],
    ['HOOFTALLY_EYE_THREADS', 'two'],
    ['HOOFTALLY_ONNX_THREADS', '1.5'],
    ['HOOFTALLY_STILLS_IN_FLIGHT', '100000'],
    ['HOOFTALLY_PROVIDERS', 'cuda;cpu'],
    ['HOOFTALLY_PROVIDERS', ''],
  ])('%s=%s is refused by name, with a remedy', (name, value) => {
    expect(() => readEyeSettings({ [name]: value })).toThrow(
      expect.objectContaining({ field: name, remedy: expect.stringContaining(`Set ${name}`) }),
    )
  })
})
