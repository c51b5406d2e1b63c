import { type ChildProcess, fork } from 'node:child_process'
import { once } from 'node:events'
import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, describe, expect, test } from 'vitest'
import { builtFile, demoStillsFolder } from '../../../services/paths.ts'
import type { FromEye, ToEye } from '../../../worker/messages.ts'

/** The eye as the service starts it; it runs from the build (npm run build). */
let child: ChildProcess | undefined
function startEye(...args: string[]): ChildProcess {
  child = fork(builtFile('worker/main.js'), args, {
    serialization: 'advanced',
    // All set, so that no test waits for a measurement.
    env: {
      ...process.env,
      HOOFTALLY_EYE_THREADS: '1',
      HOOFTALLY_ONNX_THREADS: '1',
      HOOFTALLY_STILLS_IN_FLIGHT: '2',
    },
  })
  return child
}
afterEach(() => child?.kill('SIGKILL'))

async function next(eye: ChildProcess): Promise<FromEye> {
  return (await once(eye, 'message'))[0]
}
/** Asks for several looks at once; answers by id, in whatever order they came. */
function looks(eye: ChildProcess, files: string[]): Promise<Map<number, FromEye>> {
  const answers = new Map<number, FromEye>()
  return new Promise((done) => {
    eye.on('message', (word: FromEye) => {
      if (word.type === 'looked' || word.type === 'error') answers.set(word.id, word)
      if (answers.size === files.length) done(answers)
    })
    for (const [id, file] of files.entries()) eye.send({ type: 'look', id, still: { file } } satisfies ToEye)
  })
}

describe('the eye as a process', () => {
  test('says which models it has, looks at several stills at once, and outlives what it cannot read', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'eye-'))
    const eye = startEye()
    expect(await next(eye)).toMatchObject({
      type: 'ready',
      models: { name: 'hooftally-eye' },
      plan: { eyeThreads: 1, onnxThreads: 1, stillsInFlight: 2, providers: ['cpu'], from: 'set' },
    })
    const junk = join(folder, 'junk.jpg')
    await writeFile(junk, 'junk')
    const camels = join(demoStillsFolder, 'galah-well-08.jpg')
    const answers = await looks(eye, [junk, camels, join(folder, 'gone.jpg'), camels])
    expect(answers.get(0)).toMatchObject({ type: 'looked', looked: { kind: 'unreadable' } })
    expect(answers.get(2)).toMatchObject({ type: 'error' })
    const seen = answers.get(1)
    expect(seen).toMatchObject({ looked: { kind: 'seen', width: 1280, height: 720 } })
    expect({ ...answers.get(3), id: 1 }).toEqual(seen)
    if (seen?.type !== 'looked' || seen.looked.kind !== 'seen') throw new Error('expected a seen still')
    const best = seen.looked.found[0]
    // models/reference.json: camels in this still, the best with 0.953
    expect(best?.species).toBe('camel')
    expect(best?.embedding).toBeInstanceOf(Float32Array)
    expect(best?.embedding?.length).toBe(1280)
    expect(best?.namer?.length).toBe(6)
    await rm(folder, { recursive: true })
  })

  test('without usable models it says so, with a remedy, and ends with code 1', async () => {
    const empty = await mkdtemp(join(tmpdir(), 'no-models-'))
    const eye = startEye(empty)
    const ended = once(eye, 'exit')
    expect(await next(eye)).toMatchObject({
      type: 'failed',
      detail: expect.stringContaining('manifest.json is missing'),
      remedy: expect.stringContaining('Put back the folder'),
    })
    expect(await ended).toEqual([1, null])
    await rm(empty, { recursive: true })
  })

  test('Ctrl-C is the parent’s to decide; SIGTERM ends it', async () => {
    const eye = startEye()
    await next(eye)
    eye.kill('SIGINT')
    const answers = await looks(eye, ['/nowhere.jpg'])
    expect(answers.get(0)).toMatchObject({ type: 'error' })
    const ended = once(eye, 'exit')
    eye.kill('SIGTERM')
    expect(await ended).toEqual([0, null])
  })

  test('it ends when its parent is gone', async () => {
    const eye = startEye()
    await next(eye)
    const ended = once(eye, 'exit')
    eye.disconnect()
    expect(await ended).toEqual([0, null])
  })
})
