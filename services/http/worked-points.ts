/** The points of a program and those next to them, each with what came before and after. */
import { type DidItWork, neighboursOf, type OutcomePoint } from '../planning/did-it-work.ts'
import { kilometresBetween } from '../planning/distance.ts'
import type { Nights } from '../planning/worked-spells.ts'
import { Refusal } from '../refusal.ts'
import { toStationTime } from '../station-time.ts'
import type { NightsOfSpecies } from '../store/nights-of-points.ts'
import type { PointRow } from '../store/points.ts'
import type { PointChange } from '../tally/change-verdicts.ts'
import { totalOf } from '../tally/spell-totals.ts'
import type { Species, Zone } from '../words.ts'
import type { WorkedChange, WorkedPoint } from './did-it-work-shapes.ts'
import { rounded } from './rounded.ts'
import type { WorkedFacts } from './worked-facts.ts'

export interface ChosenPoints {
  readonly program: readonly PointRow[]
  readonly neighbours: readonly PointRow[]
}

/**
 * By hand where points were asked for; else where something was taken; else the target list. A listed point where nothing was
 * taken is one that animals may have gone to. In run order.
 * @throws Refusal for a point that there is not
 */
export function chosenPoints(
  points: readonly PointRow[],
  given: {
    readonly asked: readonly number[] | undefined
    readonly taken: readonly number[]
    readonly listed: readonly number[]
    readonly rangeKm: number
  },
): ChosenPoints {
  const { asked, taken, listed, rangeKm } = given
  const unknown = asked?.find((id) => !points.some((point) => point.id === id))
  if (unknown !== undefined)
    throw new Refusal({
      kind: 'bad input',
      detail: `There is no point ${unknown}.`,
      field: 'points',
      remedy: 'Leave the points out, or give numbers of points from GET /api/points.',
    })
  const program = new Set(asked ?? (taken.length > 0 ? taken : listed))
  const neighbours = new Set(
    neighboursOf(
      points.map(({ id, lat, lon }) => ({ pointId: id, lat, lon })),
      { program: [...program], rangeKm },
    ),
  )
  return {
    program: points.filter(({ id }) => program.has(id)),
    neighbours: points.filter(({ id }) => neighbours.has(id)),
  }
}

interface Told {
  readonly facts: WorkedFacts
  readonly species: Species
}

export function outcomePoint(pointId: number, { facts, species }: Told): OutcomePoint {
  const { spells, lastYear } = facts
  const past =
    lastYear === null
      ? null
      : {
          before: countIn(facts.pastNights, { pointId, species, span: lastYear.before }),
          after: countIn(facts.pastNights, { pointId, species, span: lastYear.after }),
        }
  return {
    pointId,
    before: countIn(facts.nights, { pointId, species, span: spells.before }),
    after: countIn(facts.nights, { pointId, species, span: spells.after }),
    lastYear: past && past.before.watchedNights > 0 && past.after.watchedNights > 0 ? past : null,
  }
}

function countIn(
  nights: NightsOfSpecies,
  { pointId, species, span }: { pointId: number; species: Species; span: Nights | null },
) {
  const inSpan = nights(species, pointId).filter(
    ({ night }) => span !== null && night >= span.from && night <= span.to,
  )
  const { visits, watchedNights } = totalOf(inSpan)
  const largest = Math.max(0, ...inSpan.flatMap(({ peaks }) => peaks))
  return { visits, watchedNights, largest }
}

/** The program's points first. */
export function workedPoints(
  { program, neighbours }: ChosenPoints,
  { worked, zone, ...told }: Told & { readonly worked: DidItWork; readonly zone: Zone },
): WorkedPoint[] {
  const changes = new Map(
    [...worked.programPoints, ...worked.neighbourPoints].map((change) => [change.pointId, change]),
  )
  const pointOf = (point: PointRow, part: WorkedPoint['part']): WorkedPoint => {
    const { facts, species } = told
    const { spells } = facts
    const unfinished = facts.unfinished.find(({ pointId }) => pointId === point.id)
    const spell = (span: Nights | null) => {
      const count = countIn(facts.nights, { pointId: point.id, species, span })
      return { ...count, watchedNights: rounded(count.watchedNights) }
    }
    return {
      pointId: point.id,
      name: point.name,
      part,
      km: part === 'program' ? 0 : rounded(Math.min(...program.map((one) => kilometresBetween(one, point)))),
      before: spell(spells.before),
      after: spell(spells.after),
      change: changeOf(changes.get(point.id)!),
      lastYear: lastYearOf(outcomePoint(point.id, told)),
      states: facts.states
        .filter(({ pointId }) => pointId === point.id)
        .map(({ kind, at }) => ({ kind, at: toStationTime(at, zone) })),
      waiting: unfinished?.waiting ?? 0,
      toCheck: unfinished?.toCheck ?? 0,
    }
  }
  return [
    ...program.map((point) => pointOf(point, 'program')),
    ...neighbours.map((point) => pointOf(point, 'neighbour')),
  ]
}

function lastYearOf({ lastYear }: OutcomePoint): WorkedPoint['lastYear'] {
  const told = ({ visits, watchedNights }: OutcomePoint['before']) => ({
    visits,
    watchedNights: rounded(watchedNights),
  })
  return lastYear && { before: told(lastYear.before), after: told(lastYear.after) }
}

export function changeOf({ verdict, change, correctedP }: PointChange): WorkedChange {
  const told = (value: number | null | undefined) => (value == null ? null : rounded(value))
  return {
    verdict,
    ratio: told(change?.ratio),
    low: told(change?.low),
    high: told(change?.high),
    p: told(change?.p),
    correctedP: told(correctedP),
  }
}
