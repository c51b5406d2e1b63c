/** Every way in at once, with everything going wrong that goes wrong out there: `npm run faults -- --soak` takes the hour. */
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type FreshDatabase, freshDatabase } from '../integration/fresh-database.ts'
import { soak } from './soak.ts'

let database: FreshDatabase
beforeAll(async () => {
  database = await freshDatabase()
})
afterAll(() => database.drop())

test('a quarter of an hour of it: every photo that was answered for is there once, and what is kept is what a recount gives', async () => {
  const { told, faults } = await soak({
    seed: 2,
    steps: 90,
    restarts: 3,
    databaseUrl: database.url,
    log: () => undefined,
  })
  console.info(told.join('\n'))
  expect(faults).toEqual([])
}, 180_000)
