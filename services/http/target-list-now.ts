/** A program's target list as it stands now, and the changes of it: the ranking of the last weeks with people's words over it. */
import { type Expectations, expectationsOf, listNow, rankingWith } from '../planning/expectations.ts'
import type { KeptTargetList } from '../planning/kept-target-list.ts'
import { type Nights, nightsBefore } from '../planning/program-nights.ts'
import { type TargetEdit, withEdit } from '../planning/target-list.ts'
import { Refusal } from '../refusal.ts'
import { toInstant } from '../store/instants.ts'
import { type Said, type TargetListVersionRow, targetListVersions } from '../store/kept-lists.ts'
import type { Ledger } from '../store/open.ts'
import { findPoint } from '../store/points.ts'
import type { ProgramFields, ProgramWord } from '../store/program-tables.ts'
import {
  changeTargetList,
  fieldsOf,
  findProgram,
  makeProgram,
  type ProgramRow,
  sayOfProgram,
} from '../store/programs.ts'
import { readRatings } from '../store/ratings.ts'
import { readSettings } from '../store/settings.ts'
import { type BesideTargets, readBesideTargets, readTargetFacts } from '../store/target-facts.ts'
import { DISPERSION_WEEKS } from '../tally/dispersion.ts'
import { nightSpell } from '../tally/nights.ts'
import type { Instant } from '../words.ts'

const DAY_MS = 86_400_000
const DISPERSION_NIGHTS = DISPERSION_WEEKS * 7

export interface Expected {
  readonly nights: Nights
  readonly expectations: Expectations
}

/** What is to be expected by what was known at `now`. */
export async function expectedNow(
  ledger: Ledger,
  { species, fromNight }: Pick<ProgramFields, 'species' | 'fromNight'>,
  now: Instant,
): Promise<Expected> {
  const [{ zone }, ratings] = await Promise.all([readSettings(ledger), readRatings(ledger)])
  const nights = nightsBefore(fromNight, { now, zone })
  const { from } = nightsBefore(fromNight, { now, zone, nights: DISPERSION_NIGHTS })
  const facts = await readTargetFacts(ledger, { species, from, to: nights.to, now })
  const seen = {
    ...facts,
    pointIds: facts.points.map(({ id }) => id),
    watched: facts.watched.map(({ pointId, night, seconds }) => {
      const spell = nightSpell(night, zone)
      return { pointId, night, share: Math.min(1, (seconds * 1000) / (spell.to - spell.from)) }
    }),
  }
  return { nights, expectations: expectationsOf(seen, { nights, zone, ratings: ratings[species] }) }
}

const editsOf = (versions: readonly TargetListVersionRow[]) =>
  versions.flatMap(({ edit }) => (edit === null ? [] : [edit]))

export interface ListNow {
  readonly program: ProgramRow
  /** The number of edits. */
  readonly version: number
  readonly list: KeptTargetList
  /** When it was kept so; null for one that still follows the cameras. */
  readonly keptAt: Date | null
}

/** The list of a program that is planned or going on; of one that is over the list as it was kept at its end. */
export async function targetListNow(ledger: Ledger, programId: number, now: Instant): Promise<ListNow> {
  const program = await findProgram(ledger, programId)
  const versions = await targetListVersions(ledger, programId)
  const last = versions.at(-1)!
  if (isOver(program)) return { program, version: last.version, list: last.list, keptAt: last.at }
  const expected = await expectedNow(ledger, fieldsOf(program), now)
  return { program, version: last.version, list: listAfter(expected, versions), keptAt: null }
}

/** What stands beside the list at these points: as it is now, or as it was when the list was kept for good. */
export async function besideList(
  ledger: Ledger,
  { program, list, keptAt }: ListNow,
  { now, pointIds }: { readonly now: Instant; readonly pointIds: readonly number[] },
): Promise<BesideTargets> {
  return await readBesideTargets(ledger, {
    species: program.species,
    ...list.nights,
    now: keptAt === null ? now : toInstant(keptAt),
    pointIds,
  })
}

function listAfter(
  { nights, expectations }: Expected,
  versions: readonly TargetListVersionRow[],
): KeptTargetList {
  return listNow(expectations, { nights, edits: editsOf(versions), lastKept: versions.at(-1)?.list ?? null })
}

export const isOver = ({ finished_at, dropped_at }: Pick<ProgramRow, 'finished_at' | 'dropped_at'>) =>
  finished_at !== null || dropped_at !== null

/** Makes a program with the list that what was known at `said.at` gives it. */
export async function planProgram(ledger: Ledger, fields: ProgramFields, said: Said): Promise<ProgramRow> {
  refuseOddWindow(fields)
  const { nights, expectations } = await expectedNow(ledger, fields, said.at)
  const list = listNow(expectations, { nights, edits: [], lastKept: null })
  return await makeProgram(ledger, fields, { said, list })
}

/** @throws Refusal where there is no such program, or the word does not fit one that is over, or is not */
export async function sayProgramWord(
  ledger: Ledger,
  id: number,
  {
    word,
    fields = {},
    said,
  }: {
    readonly word: Exclude<ProgramWord, 'made'>
    readonly fields?: Partial<ProgramFields>
    readonly said: Said
  },
): Promise<ProgramRow> {
  const expected = await expectedNow(ledger, fieldsOf(await findProgram(ledger, id)), said.at)
  return await sayOfProgram(ledger, id, {
    word,
    said,
    next({ program, versions }) {
      if (isOver(program) !== (word === 'taken up again')) throw unfit(program, word)
      const next = { ...fieldsOf(program), ...fields }
      refuseOddWindow(next)
      return { fields: next, list: isOver(program) ? versions.at(-1)!.list : listAfter(expected, versions) }
    },
  })
}

/** Changes the list of that `version`. @throws Refusal where it has another one by now, or the change does not fit */
export async function editTargetList(
  ledger: Ledger,
  programId: number,
  { edit, version, said }: { readonly edit: TargetEdit; readonly version: number; readonly said: Said },
): Promise<TargetListVersionRow> {
  if (edit.kind === 'add') await findPoint(ledger, edit.pointId)
  const { nights, expectations } = await expectedNow(
    ledger,
    fieldsOf(await findProgram(ledger, programId)),
    said.at,
  )
  return await changeTargetList(ledger, programId, {
    said,
    next({ program, versions }) {
      if (isOver(program)) throw unfit(program, 'changed')
      const lastKept = versions.at(-1)?.list ?? null
      const ranking = rankingWith(expectations.ranking, lastKept)
      const edits = withEdit({ ranking, edits: editsOf(versions) }, edit, version)
      return { version: edits.length, edit, list: listNow(expectations, { nights, edits, lastKept }) }
    },
  })
}

const MOST_NIGHTS = 366

function refuseOddWindow({ fromNight, toNight }: Pick<ProgramFields, 'fromNight' | 'toNight'>): void {
  const nights = (Date.parse(toNight) - Date.parse(fromNight)) / DAY_MS + 1
  if (nights >= 1 && nights <= MOST_NIGHTS) return
  throw new Refusal({
    kind: 'bad input',
    detail:
      nights < 1
        ? `The last night (${toNight}) is before the first (${fromNight}).`
        : `A program has at most ${MOST_NIGHTS} nights, and these are ${nights}.`,
    field: 'toNight',
    remedy: 'Give the first night, and a last one that is the same or later.',
  })
}

function unfit({ name, finished_at }: ProgramRow, word: ProgramWord): Refusal {
  if (word === 'taken up again')
    return new Refusal({
      kind: 'conflict',
      detail: `"${name}" is not over, so it can't be taken up again.`,
      field: 'word',
      remedy: 'Load the program again: somebody may have taken it up.',
    })
  return new Refusal({
    kind: 'conflict',
    detail: `"${name}" is ${finished_at === null ? 'dropped' : 'finished'}, so its plan and its list stay as they were.`,
    field: 'word',
    remedy: 'Take it up again first, or make a new program.',
  })
}
