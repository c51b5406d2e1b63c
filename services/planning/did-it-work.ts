/** Did a program work: what comes to its points and to those next to them, after against before. ONE species. */
import { type PointChange, verdictsOf } from '../tally/change-verdicts.ts'
import { againstLastYear, type SeasonRatio } from './against-last-year.ts'
import { kilometresBetween, type Place } from './distance.ts'
import { type BeforeAfter, pointsTogether } from './points-together.ts'

/** The days of the program itself are in neither spell. */
export interface OutcomePoint extends BeforeAfter {
  readonly pointId: number
  /** The same days of the year before; null where there is no such past. */
  readonly lastYear: BeforeAfter | null
}

export type ProgramWord =
  | 'fewer here'
  | 'fewer here, more next door'
  | 'fewer here, as last year'
  | 'no clear change'
  | 'more than before'
  | 'too few nights to tell'

export interface ChangedPoint extends PointChange {
  readonly pointId: number
}

export interface DidItWork {
  readonly says: ProgramWord
  /** All points of the program as one, and all their neighbours; null where none was watched before and after. */
  readonly program: PointChange | null
  readonly neighbours: PointChange | null
  readonly programPoints: readonly ChangedPoint[]
  readonly neighbourPoints: readonly ChangedPoint[]
  /** Over the program's points that have a past; null without one. */
  readonly season: SeasonRatio | null
}

/**
 * The verdicts are those of tally/change-verdicts.ts: the program and its neighbours as a family of two, all single points as
 * another. Fewer is fewer than the season makes only if the year before, where it is known, did not show as much: that is
 * "as last year" where the interval of this year's ratio over last year's holds 1. `dispersion` null: not known yet.
 */
export function didItWork(
  program: readonly OutcomePoint[],
  neighbours: readonly OutcomePoint[],
  dispersion: number | null,
): DidItWork {
  const sides = [pointsTogether(program), pointsTogether(neighbours)]
  const together = verdictsOf(
    sides.flatMap((side) => (side === null ? [] : [{ now: side.after, before: side.before }])),
    dispersion,
  )
  const [ofProgram, ofNeighbours] = sides.map((side) => (side === null ? null : together.shift()!))
  const points = [...program, ...neighbours]
  const verdicts = verdictsOf(
    points.map(({ before, after }) => ({ now: after, before })),
    dispersion,
  )
  const changed = points.map(({ pointId }, i): ChangedPoint => ({ pointId, ...verdicts[i]! }))
  const neighbourPoints = changed.slice(program.length)
  const season = seasonOf(program, dispersion ?? 1)
  return {
    says: wordOf({ program: ofProgram!, neighbours: [ofNeighbours!, ...neighbourPoints], season }),
    program: ofProgram!,
    neighbours: ofNeighbours!,
    programPoints: changed.slice(0, program.length),
    neighbourPoints,
    season,
  }
}

function wordOf(given: {
  readonly program: PointChange | null
  readonly neighbours: ReadonlyArray<PointChange | null>
  readonly season: SeasonRatio | null
}): ProgramWord {
  switch (given.program?.verdict) {
    case 'more':
      return 'more than before'
    case 'worth a look':
    case 'no clear change':
      return 'no clear change'
    case 'fewer':
      if (given.season !== null && given.season.high >= 1) return 'fewer here, as last year'
      return given.neighbours.some((change) => change?.verdict === 'more')
        ? 'fewer here, more next door'
        : 'fewer here'
    default:
      return 'too few nights to tell'
  }
}

function seasonOf(program: readonly OutcomePoint[], dispersion: number): SeasonRatio | null {
  const withPast = program.flatMap(({ lastYear, ...point }) => (lastYear ? [{ ...point, lastYear }] : []))
  const now = pointsTogether(withPast)
  const lastYear = pointsTogether(withPast.map((point) => point.lastYear))
  return now && lastYear && againstLastYear(now, lastYear, { dispersion })
}

/** Points that are not in the program and lie within the species' daily range of one that is, by id. */
export function neighboursOf(
  points: ReadonlyArray<Place & { readonly pointId: number }>,
  { program, rangeKm }: { readonly program: readonly number[]; readonly rangeKm: number },
): number[] {
  const inProgram = points.filter(({ pointId }) => program.includes(pointId))
  return points
    .filter(({ pointId }) => !program.includes(pointId))
    .filter((point) => inProgram.some((one) => kilometresBetween(point, one) <= rangeKm))
    .map(({ pointId }) => pointId)
    .sort((a, b) => a - b)
}
