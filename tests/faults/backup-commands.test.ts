/** The commands as a person gives them: a backup beside a running service, put back in another folder, and served there. */
import { execFile } from 'node:child_process'
import { chmod, mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, it, vi } from 'vitest'
import { z } from 'zod'
import { builtFile } from '../../services/paths.ts'
import { type ServiceProcess, startServiceProcess } from './service-process.ts'

let folder: string
let service: ServiceProcess | null = null

// Whole services are started and stopped, on a machine that does other things too.
vi.setConfig({ testTimeout: 240_000 })

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'hooftally-commands-'))
  await chmod(folder, 0o755)
})
afterEach(async () => {
  await service?.stop()
  service = null
  await rm(folder, { recursive: true, force: true })
})

function hooftally(...args: string[]): Promise<{ readonly code: number; readonly said: string }> {
  return new Promise((resolve) => {
    execFile(process.execPath, [builtFile('services/main.js'), ...args], (fault, stdout, stderr) => {
      resolve({ code: fault === null ? 0 : Number(fault.code), said: stdout + stderr })
    })
  })
}

it('a backup beside the running service, checked, refused where a station is, put back elsewhere and served', async () => {
  const [here, there, file] = [join(folder, 'here'), join(folder, 'there'), join(folder, 'station.hooftally')]
  service = await startServiceProcess('serve', { data: here })
  await fetch(`${service.address}/api/station`, {
    method: 'PUT',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify({
      name: 'Thornbill Plains',
      zone: 'Australia/Adelaide',
      homestead: { lat: -28, lon: 134 },
    }),
  })
  const backup = await hooftally('backup', file, '--data', here)
  expect(backup).toMatchObject({ code: 0, said: expect.stringContaining('Thornbill Plains is in') })
  const again = await hooftally('backup', file, '--data', here)
  expect(again).toMatchObject({ code: 1, said: expect.stringContaining('is there already') })
  const check = await hooftally('restore', file, '--check')
  expect(check).toMatchObject({ code: 0, said: expect.stringContaining('is whole') })
  await service.stop()
  const over = await hooftally('restore', file, '--data', here)
  expect(over).toMatchObject({ code: 1, said: expect.stringContaining('holds a station already') })
  const restore = await hooftally('restore', file, '--data', there)
  expect(restore).toMatchObject({ code: 0, said: expect.stringContaining('are back in') })

  service = await startServiceProcess('serve', { data: there })
  const station = await (await fetch(`${service.address}/api/station`)).json()
  const shape = z.object({ station: z.object({ name: z.string() }) })
  expect(shape.parse(station).station.name).toBe('Thornbill Plains')
})
