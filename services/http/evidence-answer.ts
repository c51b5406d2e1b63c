/** How right the camera count is, by the blind looks: the pure core tells shares and counts, this shapes them. */
import type { AuditWeekRead } from '../store/audit-evidence.ts'
import type { Settings } from '../store/settings.ts'
import { foundShare, missedShare, rightShare, type ToldShare } from '../tally/audit-evidence.ts'
import type { CorrectedTotal } from '../tally/audit-total.ts'
import { lookedAtForUpperLimit } from '../tally/binomial-interval.ts'
import { correctedCount, isWhole, type SeenAndCorrected } from '../tally/corrected-counts.ts'
import type { Light } from '../tally/light.ts'
import { SPECIES, type Species } from '../words.ts'
import type {
  CorrectedAnswer,
  EvidenceAnswer,
  SeenAndCorrectedAnswer,
  ToldShareAnswer,
} from './evidence-shapes.ts'

const ONE_PERCENT = 0.01
const LIGHTS: readonly Light[] = ['day', 'infra-red', 'not measured']

export interface EvidenceRead {
  readonly weeks: readonly AuditWeekRead[]
  readonly settings: Settings
  readonly cameras: ReadonlyArray<{ readonly id: number; readonly name: string }>
  readonly points: ReadonlyArray<{ readonly id: number; readonly name: string }>
}

export function evidenceAnswerOf({ weeks, settings, cameras, points }: EvidenceRead): EvidenceAnswer {
  const feral = SPECIES.filter((species) => settings.feral.has(species))
  const partOf = (part: Parameters<typeof rightShare>[2]) => ({
    right: shareOf(rightShare(weeks, SPECIES, part)),
    missed: shareOf(missedShare(weeks, { of: feral, known: 'any' }, part)),
  })
  const lights = new Set(weeks.flatMap(({ there }) => there.map(({ light }) => light)))
  const cameraIds = new Set(weeks.flatMap(({ there }) => there.map(({ cameraId }) => cameraId)))
  return {
    weeks: weeks.map(({ from, to, looks }) => ({
      from,
      to,
      looks: looks.length,
      lookedAt: looks.filter(({ truth }) => truth !== null).length,
    })),
    versions: new Set(weeks.flatMap(({ modelIds }) => modelIds)).size,
    noneFoundUnderOnePercent: lookedAtForUpperLimit(ONE_PERCENT),
    species: SPECIES.map((species) => ({
      species,
      role: settings.roles[species],
      right: shareOf(rightShare(weeks, [species])),
      missed: shareOf(missedShare(weeks, { of: [species], known: species })),
      found: settings.feral.has(species) ? foundShare(weeks, species) : null,
    })),
    lights: LIGHTS.filter((light) => lights.has(light)).map((light) => ({ light, ...partOf({ light }) })),
    cameras: cameras
      .filter(({ id }) => cameraIds.has(id))
      .map(({ id, name }) => ({ cameraId: id, cameraName: name, ...partOf({ cameraId: id }) })),
    counts: countsOf(weeks, points),
  }
}

/** The latest whole week, and where there are more of them all together, which says more. */
function countsOf(weeks: readonly AuditWeekRead[], points: EvidenceRead['points']): EvidenceAnswer['counts'] {
  const whole = weeks.filter(isWhole)
  const [latest] = whole.length > 0 ? whole : weeks
  if (latest === undefined) return []
  return [[latest], ...(whole.length > 1 ? [whole] : [])].map((told) => countsOfWeeks(told, points))
}

/** Newest first. */
function countsOfWeeks(
  weeks: readonly AuditWeekRead[],
  points: EvidenceRead['points'],
): EvidenceAnswer['counts'][number] {
  const there = SPECIES.filter((species) =>
    weeks.some(
      ({ counts, looks }) =>
        counts.some((row) => row.species === species) ||
        looks.some(({ truth }) => truth?.[species] !== undefined),
    ),
  )
  const told = (species: Species, pointId?: number) => {
    const asked = { species, ...(pointId === undefined ? {} : { pointId }) }
    return {
      visits: answerOf(correctedCount(weeks, { ...asked, what: 'visits' })),
      head: answerOf(correctedCount(weeks, { ...asked, what: 'head' })),
    }
  }
  return {
    from: weeks.at(-1)!.from,
    to: weeks[0]!.to,
    weeks: weeks.length,
    species: there.map((species) => ({ species, ...told(species) })),
    points: points.flatMap(({ id, name }) =>
      there.flatMap((species) => {
        const { visits, head } = told(species, id)
        const isTold = visits.corrected.kind === 'corrected' || head.corrected.kind === 'corrected'
        return isTold ? [{ pointId: id, pointName: name, species, visits, head }] : []
      }),
    ),
  }
}

function shareOf(told: ToldShare): ToldShareAnswer {
  const { drawn, before, hits } = told
  if (told.kind !== 'said') return { kind: told.kind, more: told.more, drawn, before, hits }
  return { kind: told.kind, share: told.share, low: told.low, high: told.high, drawn, before, hits }
}

function answerOf({ seen, corrected }: SeenAndCorrected): SeenAndCorrectedAnswer {
  return { seen, corrected: correctedOf(corrected) }
}

function correctedOf(told: CorrectedTotal): CorrectedAnswer {
  switch (told.kind) {
    case 'corrected':
      return { kind: told.kind, total: told.total, low: told.low, high: told.high }
    case 'no difference found':
      return { kind: told.kind, total: told.total, looksThatMayDiffer: told.burstsThatMayDiffer }
    case 'not enough checked to say':
      return told
  }
}
