/** What comes out of Redis, which others may write to, is a still's job or nothing. */
import { expect, it } from 'vitest'
import { jobOf, stillOfJob } from '../../../services/queue/still-jobs.ts'

const look = { hash: 'ab'.repeat(32), tiles: true }

it('a job carries what an eye needs to be told of its photo', () => {
  const still = { stillId: 7, urgency: 'today', look } as const
  expect(stillOfJob(JSON.parse(JSON.stringify(jobOf(still).data)))).toEqual(still)
})

it('a job of an earlier version, without it, is one too', () => {
  expect(stillOfJob({ stillId: 7, urgency: 'old' })).toEqual({ stillId: 7, urgency: 'old' })
})

it.each(['../../../etc/passwd', 'AB'.repeat(32), 'ab'.repeat(31), ''])(
  'a hash that is none is no job: it would become a part of a path (%j)',
  (hash) => {
    expect(stillOfJob({ stillId: 7, urgency: 'today', look: { ...look, hash } })).toBeNull()
  },
)
