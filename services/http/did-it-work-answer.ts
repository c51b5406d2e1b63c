/** Did a program work, as the API answers it: what came before and after, what was expected and what was taken. */
import { didItWork } from '../planning/did-it-work.ts'
import { workedSpells } from '../planning/worked-spells.ts'
import { toStationTime } from '../station-time.ts'
import { targetListVersions } from '../store/kept-lists.ts'
import type { Ledger } from '../store/open.ts'
import { outcomesOf } from '../store/outcomes.ts'
import { listPoints } from '../store/points.ts'
import { findProgram, type ProgramRow } from '../store/programs.ts'
import { readSettings } from '../store/settings.ts'
import { readDailyRanges } from '../store/yard-words.ts'
import { nightOf, nightsOn } from '../tally/nights.ts'
import type { Instant } from '../words.ts'
import type { DidItWorkAsked } from './did-it-work-doors.ts'
import type { DidItWorkAnswer } from './did-it-work-shapes.ts'
import { expectedOf } from './expected-then.ts'
import { outcomesMet } from './outcomes-met.ts'
import { removalOf } from './removal-answer.ts'
import { rounded } from './rounded.ts'
import { dispersionIn, readWorkedFacts } from './worked-facts.ts'
import { changeOf, chosenPoints, outcomePoint, workedPoints } from './worked-points.ts'

/** @throws Refusal where there is no such program, or a point that was asked for is none */
export async function didItWorkAt(
  ledger: Ledger,
  {
    programId,
    asked,
    now,
  }: { readonly programId: number; readonly asked: DidItWorkAsked; readonly now: Instant },
): Promise<DidItWorkAnswer> {
  const program = await findProgram(ledger, programId)
  const [settings, points, lists, outcomes, ranges] = await Promise.all([
    readSettings(ledger),
    listPoints(ledger),
    targetListVersions(ledger, programId),
    outcomesOf(ledger, programId),
    readDailyRanges(ledger),
  ])
  const { zone } = settings
  const { species } = program
  const taken = outcomes.filter((outcome) => outcome.species === species)
  const spells = workedSpells({
    program: { from: program.from_night, to: program.to_night },
    days: outcomes.map(({ day }) => day),
    lastNightOver: nightsOn(nightOf(now, zone), -1),
    nights: asked,
  })
  const chosen = chosenPoints(points, {
    asked: asked.points,
    taken: taken.map(({ pointId }) => pointId),
    listed: lists.at(-1)?.list.lines.map(({ pointId }) => pointId) ?? [],
    rangeKm: ranges[species].km,
  })
  const facts = await readWorkedFacts(ledger, { spells, species, zone })
  const dispersion = dispersionIn(facts, { pointIds: points.map(({ id }) => id), species })
  const worked = didItWork(
    chosen.program.map(({ id }) => outcomePoint(id, { facts, species })),
    chosen.neighbours.map(({ id }) => outcomePoint(id, { facts, species })),
    dispersion,
  )
  const told = workedPoints(chosen, { worked, facts, species, zone })
  const names = new Map(points.map(({ id, name }) => [id, name]))
  return {
    station: settings.name,
    now: toStationTime(now, zone),
    program: programOf(program),
    ...spells,
    lastYear: told.some(({ lastYear }) => lastYear !== null) ? facts.lastYear : null,
    says: told.some(({ waiting }) => waiting > 0) ? 'photos still being read' : worked.says,
    change: {
      program: worked.program && changeOf(worked.program),
      neighbours: worked.neighbours && changeOf(worked.neighbours),
    },
    season: worked.season && {
      ratio: rounded(worked.season.ratio),
      low: rounded(worked.season.low),
      high: rounded(worked.season.high),
    },
    range: ranges[species],
    dispersion: dispersion && rounded(dispersion),
    points: told,
    expected: expectedOf(lists, { program, names, zone }),
    met: outcomesMet(outcomes, { species, names }),
    removal: removalOf(taken, asked),
    share: asked.share,
  }
}

const programOf = (program: ProgramRow): DidItWorkAnswer['program'] => ({
  id: program.id,
  name: program.name,
  species: program.species,
  method: program.method,
  fromNight: program.from_night,
  toNight: program.to_night,
  finished: program.finished_at !== null,
  dropped: program.dropped_at !== null,
})
