/** The files of docs/scaled are used as they are: what they call has to be there. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
// The YAML reader that the browser tests' driver carries: a package of our own for one test would be too much.
import { yaml } from 'playwright-core/lib/utilsBundle'
import { expect, it } from 'vitest'
import { z } from 'zod'
import { readServeConfig } from '../../../services/config/serve.ts'
import { readWorkerConfig } from '../../../services/config/worker.ts'
import { projectFolder } from '../../../services/paths.ts'

const read = (name: string) => readFileSync(join(projectFolder, 'docs', 'scaled', name), 'utf8')

const compose = z
  .object({
    services: z.record(
      z.string(),
      z.object({
        image: z.string().regex(/^[a-z]+(:\d+)?$/),
        command: z.array(z.string()).optional(),
        environment: z.record(z.string(), z.string()).optional(),
        ports: z.array(z.string()).optional(),
        volumes: z.array(z.string()).optional(),
        healthcheck: z.object({ test: z.array(z.string()).min(2) }),
        depends_on: z.record(z.string(), z.object({ condition: z.literal('service_healthy') })).optional(),
      }),
    ),
    volumes: z.record(z.string(), z.null()),
  })
  .parse(yaml.parse(read('compose.yaml'), { merge: true }))

/** As compose fills a variable in. */
const filled = (environment: Readonly<Record<string, string>> = {}) =>
  Object.fromEntries(
    Object.entries(environment).map(([name, value]) => [
      name,
      value.replace(/\$\{(\w+)[^}]*\}/g, 'value-of-$1'),
    ]),
  )

it('a service, two workers, PostgreSQL and Redis, each with a health check', () => {
  expect(Object.keys(compose.services).toSorted()).toEqual([
    'api',
    'postgres',
    'redis',
    'worker-one',
    'worker-two',
  ])
})

it('what each waits for and each volume it uses is in the file', () => {
  for (const { depends_on = {}, volumes = [] } of Object.values(compose.services)) {
    for (const name of Object.keys(depends_on)) expect(Object.keys(compose.services)).toContain(name)
    for (const volume of volumes) expect(Object.keys(compose.volumes)).toContain(volume.split(':')[0])
  }
})

it('the service and the workers take what it gives them', () => {
  const { api, 'worker-one': one, 'worker-two': two } = compose.services
  const serve = readServeConfig(api!.command!.slice(1), filled(api!.environment))
  expect(serve).toMatchObject({ host: '0.0.0.0', redisUrl: 'redis://redis:6379' })
  expect(serve.databaseUrl).toContain('@postgres:5432/hooftally')
  const names = [one, two].map((worker) => {
    const [command, ...args] = worker!.command!
    expect(command).toBe('worker')
    return readWorkerConfig(args, filled(worker!.environment)).name
  })
  expect(names).toEqual(['worker-one', 'worker-two'])
})

it('nothing is published beyond the machine', () => {
  for (const { ports = [] } of Object.values(compose.services)) {
    for (const port of ports) expect(port).toMatch(/^127\.0\.0\.1:/)
  }
})

it.each([
  ['hooftally.service', 'serve'],
  ['hooftally-worker@.service', 'worker'],
])('%s starts the built command and gives a stop its time', (name, command) => {
  const unit = read(name)
  expect(unit).toMatch(
    new RegExp(`^ExecStart=/usr/bin/node /opt/hooftally/dist/services/main\\.js ${command}\\b`, 'm'),
  )
  // Longer than the ten seconds in which every command ends.
  expect(Number(/^TimeoutStopSec=(\d+)$/m.exec(unit)?.[1])).toBeGreaterThan(10)
})
