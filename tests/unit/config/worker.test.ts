/** Options of a worker and of a service with workers, from the command line and the environment. */
import { hostname } from 'node:os'
import { expect, it } from 'vitest'
import { readDemoConfig, readServeConfig } from '../../../services/config/serve.ts'
import { readWorkerConfig } from '../../../services/config/worker.ts'

const KEY = { HOOFTALLY_WORKER_KEY: 'abc' }
const API = 'http://10.0.0.5:8470'

it('a worker needs an address and a key, from either place', () => {
  expect(readWorkerConfig(['--api', API], KEY)).toMatchObject({ api: API, key: 'abc', name: hostname() })
  expect(readWorkerConfig(['--key', 'b'], { ...KEY, HOOFTALLY_API: API })).toMatchObject({
    api: API,
    key: 'b',
  })
  expect(() => readWorkerConfig(['--api', API], {})).toThrow('--key: is missing.')
  expect(() => readWorkerConfig([], KEY)).toThrow('--api: is missing.')
})

it('an address that is none is refused by name', () => {
  expect(() => readWorkerConfig(['--api', '10.0.0.5:8470'], KEY)).toThrow(/^--api: /)
  expect(() => readServeConfig([], { REDIS_URL: 'http://10.0.0.5:6379' })).toThrow(/^REDIS_URL: /)
})

it('with a Redis the service looks at photos only when it is asked to', () => {
  const REDIS_URL = 'redis://10.0.0.5:6379'
  expect(readServeConfig([], { REDIS_URL })).toMatchObject({ redisUrl: REDIS_URL, runsEye: false })
  expect(readServeConfig(['--eye'], { REDIS_URL })).toMatchObject({ runsEye: true })
  expect(readServeConfig([], { REDIS_URL, HOOFTALLY_EYE: '1' })).toMatchObject({ runsEye: true })
})

it('the demo has nothing to do with a station’s Redis or its folder of photos', () => {
  const demo = readDemoConfig([], { REDIS_URL: 'redis://10.0.0.5:6379', STILLS_FOLDER: '/photos' })
  expect(demo).toMatchObject({ redisUrl: undefined, stillFolder: undefined })
})
