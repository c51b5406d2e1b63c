/** docs/api.md against the code: whoever writes a script by it must not be led astray. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { z } from 'zod'
import { DEFAULT_PORT } from '../../../services/config/serve.ts'
import * as doors from '../../../services/http/doors.ts'
import { projectFolder } from '../../../services/paths.ts'
import { registeredRoutes } from './routes.ts'

const page = readFileSync(join(projectFolder, 'docs', 'api.md'), 'utf8')
const registered = registeredRoutes().map(({ method, path }) => `${method} ${path}`)

test('every route has a heading of its own, and no heading a route that is not', () => {
  const headings = [...page.matchAll(/^### `(\w+ \S+)`$/gm)].map((match) => match[1])
  expect(headings.sort()).toEqual([...registered].sort())
})

test('every example asks an address that is there', () => {
  const examples = [...page.matchAll(/^curl .*$/gm)].map(([line]) => line)
  expect(examples.length).toBeGreaterThanOrEqual(5)
  for (const line of examples) {
    const path = new RegExp(`127\\.0\\.0\\.1:${DEFAULT_PORT}(/api/[^\\s'?]*)`).exec(line)?.[1]
    const method = /-X POST|-d |--data|-F /.test(line) ? 'POST' : 'GET'
    expect(registered, line).toContain(`${method} ${path?.replace('/k/KEY/', '/k/:key/')}`)
  }
})

test('the three things a camera sends have an example each', () => {
  for (const path of ['stills', 'heartbeats', 'levels']) {
    expect(page).toMatch(new RegExp(`^curl .*X-Camera-Key: KEY.*/api/${path}$`, 'm'))
  }
})

describe('every field of every door is named', () => {
  const fields = Object.entries(doors).flatMap(([name, door]) =>
    door instanceof z.ZodObject ? Object.keys(door.shape).map((field) => ({ name, field })) : [],
  )
  test('the doors were found', () => {
    expect(fields.length).toBeGreaterThan(50)
  })
  test.each(fields)('$name: $field', ({ field }) => {
    // As `field`, `field=value` or in a line of JSON.
    expect(page).toMatch(new RegExp(`\`${field}[\`=]|"${field}":`))
  })
})
