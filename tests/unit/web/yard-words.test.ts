import { describe, expect, test } from 'vitest'
import type { Job } from '../../../services/http/yard-shapes.ts'
import { jobLine, jobMail, jobText, jobTitle, jobWordLine } from '../../../web/text/jobs.ts'
import { programDays } from '../../../web/text/sheets.ts'
import { trapFact, trapTrouble } from '../../../web/text/traps.ts'
import { whatToTake } from '../../../web/text/what-to-take.ts'
import { effortWords, sumWords, takenWords, trapEntryWords } from '../../../web/text/yard.ts'
import { NOW, trapOf } from './rows.ts'

const HELD = { head: 14, species: 'camel', class: null, since: null } as const
const LATE = { visitedAt: '2026-11-24T02:10:00+10:30', overdue: true }

describe('a trap in words', () => {
  test('says when somebody has to be there next, and is no alarm before that', () => {
    expect(trapFact(trapOf({}), NOW)).toEqual({
      tone: 'look',
      words: 'Trap set, visited just now: next by Thu 26 Nov, 06:10',
    })
  })
  test('is an alarm once nobody was there in its time, louder with head inside', () => {
    expect(trapFact(trapOf(LATE), NOW).words).toBe('Trap set, not visited for 28 h: visit it now')
    expect(trapFact(trapOf({ ...LATE, held: HELD }), NOW)).toEqual({
      tone: 'alarm',
      words: '14 camels held, not visited for 28 h: go now, with water, shade and feed',
    })
  })
  test('that is open asks for nobody', () => {
    const open = trapOf({ state: 'open', dueBy: null })
    expect(trapFact(open, NOW).words).toBe('Trap open just now')
    expect(trapTrouble(open, { name: 'Wren Bore', now: NOW })).toBeNull()
  })
})

describe('what was entered, in words', () => {
  test('head taken, of what, and what became of them', () => {
    expect(takenWords({ species: 'camel', head: 7, class: 'cows', fate: 'trucked' })).toBe(
      '7 camels (cows), trucked',
    )
    expect(takenWords({ species: 'camel', head: 0, class: null, fate: 'trucked' })).toBe(
      'Nothing taken (camel)',
    )
  })
  test('a visit says what is inside, where that was said', () => {
    expect(trapEntryWords({ kind: 'visited' })).toBe('Visited')
    expect(trapEntryWords({ kind: 'visited', held: 0 })).toBe('Visited, nothing inside')
    expect(trapEntryWords({ kind: 'trap set', held: 3, species: 'horse' })).toBe('Trap set, 3 horses inside')
  })
  test('released ones stand apart in the sums', () => {
    const sums = [
      { species: 'camel', fate: 'trucked', head: 14 },
      { species: 'camel', fate: 'released', head: 2 },
    ] as const
    expect(sumWords([...sums])).toBe('14 camels trucked, 2 camels released')
  })
  test('a day’s effort at one point counts once, the most that was told', () => {
    const effort = (pointId: number, amount: number) => ({ pointId, effort: { amount, unit: 'trap nights' } })
    expect(effortWords([effort(1, 1), effort(1, 2), effort(2, 1), { pointId: 3, effort: null }])).toBe(
      '2 trap nights, 1 trap nights',
    )
  })
})

const job: Job = {
  id: '0d6f2a52-6d1c-4d7b-9c1e-0a4a5c1d2e3f',
  pointId: 4,
  pointName: 'Wren Bore',
  photo: { stillId: 812, takenAt: NOW, smallUrl: '/api/stills/812/small' },
  trouble: 'trough leak',
  open: true,
  person: 'Robin',
  note: 'wet ground + mud',
  askedBy: 'Ash',
  askedAt: NOW,
  ended: null,
  words: [],
}

describe('a trip in words', () => {
  test('says what, where, for whom and by whom', () => {
    expect(jobTitle(job)).toBe('Trough leaking at Wren Bore')
    expect(jobTitle({ ...job, trouble: 'other' })).toBe('wet ground + mud at Wren Bore')
    expect(jobLine({ ...job, person: null })).toBe(
      'For nobody yet. Asked for by Ash, Wed 25 Nov, 06:10. wet ground + mud.',
    )
  })
  test('tells who said what, and to whom it was handed', () => {
    const said = { who: 'Ash', at: NOW, person: 'Robin', note: null }
    expect(jobWordLine({ ...said, word: 'asked for' })).toBe('Asked for by Ash, Wed 25 Nov, 06:10, for Robin')
    expect(jobWordLine({ ...said, word: 'handed on', note: 'needs the welder' })).toBe(
      'Handed on to Robin by Ash, Wed 25 Nov, 06:10: needs the welder',
    )
    expect(jobWordLine({ ...said, word: 'done', person: null })).toBe('Done by Ash, Wed 25 Nov, 06:10')
  })
  // RFC 6068, section 2: what is written in a mail's address is percent-encoded, and a plus is a plus.
  test('begins a mail that another program reads as it was written', () => {
    const mail = new URL(jobMail(job, 'http://10.0.0.2:8470'))
    const fields = Object.fromEntries(
      mail.search
        .slice(1)
        .split('&')
        .map((field) => field.split('=').map((part) => decodeURIComponent(part)) as [string, string]),
    )
    expect(fields).toEqual({ subject: jobTitle(job), body: jobText(job, 'http://10.0.0.2:8470') })
    expect(fields.body).toContain('http://10.0.0.2:8470/photos/812')
  })
})

describe('sheets', () => {
  test('a program runs from its first evening to the morning after its last night', () => {
    expect(programDays({ fromNight: '2026-11-29', toNight: '2026-11-30' })).toBe(
      'From the evening of Sun 29 Nov to the morning of Tue 1 Dec 2026',
    )
  })
  test('what to take follows the method and the head', () => {
    const trap = whatToTake({ method: 'Trap yard', species: 'camel', head: 12, litresADay: 480 })
    expect(trap.filter((line) => line.includes('12 camels'))).toHaveLength(4)
    expect(trap.join()).toContain('480 L a day by your ratings')
    const aerial = whatToTake({ method: 'aerial', species: 'camel', head: 12, litresADay: 480 })
    expect(aerial.join()).not.toContain('Panels')
    expect(aerial.join()).toContain('neighbours’ notice')
  })
  test('head that nobody knows is not made up', () => {
    const lines = whatToTake({ method: 'muster', species: null, head: null, litresADay: null })
    expect(lines.join()).toContain('Water for what is held, and a trough')
  })
})
