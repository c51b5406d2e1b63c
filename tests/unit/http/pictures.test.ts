/** What a browser is told it may keep. */

import { createHash } from 'node:crypto'
import { once } from 'node:events'
import { mkdtemp, rm } from 'node:fs/promises'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import express from 'express'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { sendSmall } from '../../../services/http/pictures.ts'
import { problemHandler } from '../../../services/http/problem.ts'
import { openStillFolder } from '../../../services/store/still-folder.ts'

const bytes = Buffer.from('these bytes are no picture')
const hash = createHash('sha256').update(bytes).digest()

let folder: string
let address: string
let server: ReturnType<ReturnType<typeof express>['listen']>

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'hooftally-pictures-'))
  const files = await openStillFolder(folder)
  await files.keep(hash, bytes)
  const app = express()
  app.get('/:state', (request, response) =>
    sendSmall(
      files,
      { id: 7, hash, format: 'jpeg', state: request.params.state, kept: 'whole' },
      { request, response },
    ),
  )
  app.use(problemHandler(() => undefined))
  server = app.listen(0, '127.0.0.1')
  await once(server, 'listening')
  address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
})
afterAll(async () => {
  server.close()
  await rm(folder, { recursive: true, force: true })
})

test('a photo that waits is shown whole where its small one will be, and asked for again', async () => {
  const response = await fetch(`${address}/received`)
  expect([response.status, await response.text()]).toEqual([200, 'these bytes are no picture'])
  expect(response.headers.get('cache-control')).toBe('no-cache')
})
test('a small one that cannot be made is not remembered as missing for a year', async () => {
  const response = await fetch(`${address}/done`)
  expect(response.status).toBe(404)
  expect(response.headers.get('cache-control')).toBe('no-store')
  expect(response.headers.get('etag')).not.toContain('-small')
})
