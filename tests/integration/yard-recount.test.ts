/** What is kept of traps and jobs beside their logs equals what the logs say, after any mixture of words. */
import { randomUUID } from 'node:crypto'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { parseInstant } from '../../services/station-time.ts'
import { askForJob, sayOfJob } from '../../services/store/jobs.ts'
import { addPointState } from '../../services/store/point-states.ts'
import { recordTrapWords } from '../../services/store/trap-log.ts'
import { isOpen, JOB_WORDS, type JobWord } from '../../services/tally/job-words.ts'
import { TRAP_WORDS } from '../../services/tally/trap-visits.ts'
import type { Instant } from '../../services/words.ts'
import { openSmallStation, type SmallStation } from './small-station.ts'

const now = parseInstant('2026-11-25T06:10:00+10:30')
const WORDS = 150
let station: SmallStation

beforeAll(async () => {
  station = await openSmallStation()
})
afterAll(() => station?.close())

/** Numerical Recipes' quick generator (Press et al. 1992, section 7.1): the same mixture each time. */
function drawing(seed: number): (below: number) => number {
  let state = seed
  return (below) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return Math.floor((state / 2 ** 32) * below)
  }
}

test('the point’s states of its trap are the standing words of its log', async () => {
  const { ledger, pointId } = station
  const draw = drawing(7)
  const said: string[] = []
  for (let word = 0; word < WORDS; word++) {
    const id = randomUUID()
    const at = (now - draw(1_000) * 60_000) as Instant
    const kind = TRAP_WORDS[draw(TRAP_WORDS.length)]!
    const back = said[draw(said.length + 3)] ?? null
    const unsaid = { held: null, heldSince: null, species: null, class: null, note: null }
    const what = draw(4)
    const words =
      what === 0 && back !== null
        ? [{ kind: 'withdrawn' as const, id, who: 'Ash', withdraws: back, note: null }]
        : [{ kind, id, pointId, at, who: 'Ash', withdraws: what === 1 ? back : null, ...unsaid }]
    if (what === 2)
      await addPointState(ledger, {
        ...{ pointId, at, source: 'tap', levelPercent: null, note: null },
        kind: 'trap open',
      })
    // One that was corrected before is refused, and changes nothing.
    else if (
      await recordTrapWords(ledger, { words, now }).then(
        () => true,
        () => false,
      )
    )
      said.push(id)
  }
  const log = await ledger.selectFrom('trap_log').selectAll().execute()
  const withdrawn = new Set(log.map(({ withdraws }) => withdraws))
  const standing = log.filter(({ id, kind }) => kind.startsWith('trap ') && !withdrawn.has(id))
  const states = await ledger.selectFrom('point_states').selectAll().execute()
  const told = (rows: ReadonlyArray<{ kind: string; at: Date; word: string | null }>) =>
    rows.map(({ kind, at, word }) => `${word} ${kind} ${at.toISOString()}`).sort()
  expect(standing.length).toBeGreaterThan(20)
  expect(withdrawn.size).toBeGreaterThan(20)
  expect(told(states.map((row) => ({ ...row, word: row.trap_word })))).toEqual(
    told(standing.map((row) => ({ ...row, word: row.id }))),
  )
})

test('a job is kept as open exactly where its words say so', async () => {
  const { ledger, pointId } = station
  const draw = drawing(11)
  for (let job = 0; job < 12; job++) {
    const id = randomUUID()
    const asked = {
      id,
      pointId,
      stillId: null,
      trouble: 'float',
      who: 'Ash',
      person: null,
      note: null,
    } as const
    await askForJob(ledger, asked, now)
    for (let word = draw(6); word > 0; word--) {
      const said = { id: randomUUID(), jobId: id, who: 'Ash', person: 'Robin', note: 'x' }
      await sayOfJob(ledger, { ...said, word: JOB_WORDS[draw(JOB_WORDS.length)]! }, now)
    }
  }
  const jobs = await ledger.selectFrom('jobs').select(['id', 'open']).execute()
  const words = await ledger.selectFrom('job_words').select(['job_id', 'word']).orderBy('seq').execute()
  const wordsOf = (id: string): JobWord[] =>
    words.flatMap(({ job_id, word }) => (job_id === id ? [word] : []))
  expect(new Set(jobs.map(({ open }) => open))).toEqual(new Set([true, false]))
  expect(jobs).toEqual(jobs.map(({ id }) => ({ id, open: isOpen(wordsOf(id)) })))
})
