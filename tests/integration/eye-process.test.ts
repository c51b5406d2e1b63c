/** What the eye is given at once: a photo that only waits must not be counted as one that takes too long. */
import { afterEach, expect, it } from 'vitest'
import { builtFile, modelsFolder } from '../../services/paths.ts'
import { type EyeProcess, startEyeProcess } from '../../services/queue/eye-process.ts'
import { until } from '../faults/service-process.ts'

let eye: EyeProcess
afterEach(() => eye.stop())

it('an eye that hangs takes only those down with it that it was given; the next are looked at by the next eye', async () => {
  eye = startEyeProcess({
    modelsFolder,
    log: () => undefined,
    longestLookMs: 300,
    entry: builtFile('tests/stub-eye.js'),
  })
  await until('the eye is up', async () => eye.state() === 'ready')
  const ends: string[] = []
  // As many as the stub eye takes (four at once, and two that come next).
  const looks = [...Array<string>(6).fill('HANGS'), 'plain one', 'plain two'].map((word) =>
    eye.look({ bytes: Buffer.from(word) }).then(
      () => ends.push(word),
      () => ends.push(`failed: ${word}`),
    ),
  )
  await Promise.all(looks)
  expect(ends).toEqual([...Array<string>(6).fill('failed: HANGS'), 'plain one', 'plain two'])
})
