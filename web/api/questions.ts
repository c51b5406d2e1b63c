/** Every question the view asks, with the shape of its answer. */
import type { AuditsAnswer, OpenLooksAnswer } from '../../services/http/audit-shapes.ts'
import type { BatteriesAnswer } from '../../services/http/battery-shapes.ts'
import type { CameraWatchAnswer, WatchingAnswer } from '../../services/http/camera-shapes.ts'
import type { CameraTimesAnswer, ShiftPreview, StillTimeAnswer } from '../../services/http/clock-shapes.ts'
import type { DidItWorkAnswer } from '../../services/http/did-it-work-shapes.ts'
import type { EvidenceAnswer, MarksAnswer, ModelEvidenceAnswer } from '../../services/http/evidence-shapes.ts'
import type { Mailbox } from '../../services/http/mail-shapes.ts'
import type { MusterAnswerShape } from '../../services/http/muster-shapes.ts'
import type { KindsAnswer, NamersAnswer } from '../../services/http/own-animal-shapes.ts'
import type { PastCount, PastCountFile, PastCountsCompared } from '../../services/http/past-count-shapes.ts'
import type { PressureAnswer, RatingAnswer, WhenTheyComeAnswer } from '../../services/http/pressure-shapes.ts'
import type {
  Access,
  DistancesAnswer,
  ProgramHistory,
  ProgramsAnswer,
  ShareLink,
  TargetListAnswer,
  TargetVersionsAnswer,
} from '../../services/http/program-shapes.ts'
import type {
  Camera,
  CheckCardsAnswer,
  DayAnswer,
  Health,
  KeepingAnswer,
  KeepingPreview,
  NightOfPoint,
  Point,
  PointAnswer,
  RerunCount,
  RerunsAnswer,
  Station,
  StillAnswer,
  StillPage,
  VisitPage,
  WaterRunAnswer,
  WorkersAnswer,
} from '../../services/http/shapes.ts'
import type { IntakeLimitsAnswer, SourcesAnswer } from '../../services/http/source-shapes.ts'
import type {
  GateHoursAnswer,
  TrapYardsAnswer,
  YardPlanAnswer,
  YardPlansAnswer,
  YardTryAnswer,
} from '../../services/http/trap-yard-shapes.ts'
import type {
  JobsAnswer,
  OutcomesAnswer,
  TrapHoursAnswer,
  TrapLogAnswer,
  YardSheetAnswer,
} from '../../services/http/yard-shapes.ts'
import type { Question } from './ask.ts'

export type Filters = Readonly<Record<string, string | number | null | undefined>>

/** `path?a=1&b=2`, leaving out what is null or undefined. */
export function withQuery(path: string, filters: Filters): string {
  const query = new URLSearchParams()
  for (const [name, value] of Object.entries(filters)) {
    if (value !== null && value !== undefined && value !== '') query.set(name, String(value))
  }
  const words = query.toString()
  return words === '' ? path : `${path}?${words}`
}

export const stationQuestion: Question<{ station: Station | null }> = { path: '/api/station' }
export const pointsQuestion: Question<{ points: Point[] }> = { path: '/api/points' }
export const camerasQuestion: Question<{ cameras: Camera[] }> = { path: '/api/cameras' }
export const cameraWatchQuestion: Question<CameraWatchAnswer> = { path: '/api/cameras/watch' }
export const watchingQuestion = (id: string, night: string): Question<WatchingAnswer> => ({
  path: withQuery(`/api/points/${id}/watching`, { from: night, to: night }),
})
export const cameraTimesQuestion = (id: number): Question<CameraTimesAnswer> => ({
  path: `/api/cameras/${id}/times`,
})
export const stillTimeQuestion = (id: number): Question<StillTimeAnswer> => ({
  path: `/api/stills/${id}/time`,
})
export const shiftPreviewQuestion = (filters: Filters): Question<ShiftPreview> => ({
  path: withQuery('/api/shifts/preview', filters),
})
export const rerunsQuestion: Question<RerunsAnswer> = { path: '/api/reruns' }
export const rerunCountQuestion = (filters: Filters): Question<RerunCount> => ({
  path: withQuery('/api/reruns/count', filters),
})
export const ownKindsQuestion: Question<KindsAnswer> = { path: '/api/kinds' }
export const namersQuestion: Question<NamersAnswer> = { path: '/api/namers' }
export const keepingQuestion: Question<KeepingAnswer> = { path: '/api/keeping' }
export const keepingPreviewQuestion = (empties: string, afterDays: number): Question<KeepingPreview> => ({
  path: withQuery('/api/keeping/preview', { empties, afterDays }),
})
export const mailboxesQuestion: Question<{ mailboxes: Mailbox[] }> = { path: '/api/mailboxes' }
export const workersQuestion: Question<WorkersAnswer> = { path: '/api/workers' }
export const healthQuestion: Question<Health> = { path: '/api/health' }

export const waterRunQuestion = (night: string | null): Question<WaterRunAnswer> => ({
  path: withQuery('/api/water-run', { night }),
})
export const pointQuestion = (id: string): Question<PointAnswer> => ({ path: `/api/points/${id}` })
export const dayQuestion = (id: string): Question<DayAnswer> => ({ path: `/api/points/${id}/day` })
export const nightsQuestion = (
  id: string,
  range: { from: string; to: string },
): Question<{ nights: NightOfPoint[] }> => ({ path: withQuery(`/api/points/${id}/nights`, range) })
export const visitsQuestion = (filters: Filters): Question<VisitPage> => ({
  path: withQuery('/api/visits', filters),
})
export const stillsQuestion = (filters: Filters): Question<StillPage> => ({
  path: withQuery('/api/stills', filters),
})
export const stillQuestion = (id: string | number): Question<StillAnswer> => ({ path: `/api/stills/${id}` })
export const cardsQuestion = (
  night: string | null,
  shown: 'matters' | 'teaches' | 'other',
  limit: number,
): Question<CheckCardsAnswer> => ({
  path: withQuery('/api/checks/cards', {
    night,
    which: shown === 'other' ? 'plain' : null,
    order: shown === 'teaches' ? 'teaches' : null,
    limit,
  }),
})

export const auditsQuestion: Question<AuditsAnswer> = { path: '/api/audits' }
export const openLooksQuestion: Question<OpenLooksAnswer> = { path: '/api/audits/looks' }
export const evidenceQuestion: Question<EvidenceAnswer> = { path: '/api/evidence' }
export const modelEvidenceQuestion: Question<ModelEvidenceAnswer> = { path: '/api/evidence/models' }
export const marksQuestion = (species: string): Question<MarksAnswer> => ({
  path: withQuery('/api/evidence/marks', { species }),
})

export const pastCountFilesQuestion: Question<{ files: PastCountFile[] }> = { path: '/api/past-counts' }
export const pastCountsQuestion = (point: string): Question<{ counts: PastCount[] }> => ({
  path: `/api/points/${point}/past-counts`,
})
export const pastCountsComparedQuestion = (week: string): Question<PastCountsCompared> => ({
  path: withQuery('/api/past-counts/compared', { week }),
})
export const pressureQuestion = (week: string | null): Question<PressureAnswer> => ({
  path: withQuery('/api/pressure', { week }),
})
export const whenTheyComeQuestion = (filters: Filters): Question<WhenTheyComeAnswer> => ({
  path: withQuery('/api/when-they-come', filters),
})
export const ratingsQuestion: Question<{ ratings: RatingAnswer[] }> = { path: '/api/ratings' }

export const programsQuestion: Question<ProgramsAnswer> = { path: '/api/programs' }
export const programQuestion = (id: string | number): Question<ProgramHistory> => ({
  path: `/api/programs/${id}`,
})
export const targetListQuestion = (id: number): Question<TargetListAnswer> => ({
  path: `/api/programs/${id}/target-list`,
})
export const targetVersionsQuestion = (id: number): Question<TargetVersionsAnswer> => ({
  path: `/api/programs/${id}/target-list/versions`,
})
export const shareLinksQuestion = (id: number): Question<{ links: ShareLink[] }> => ({
  path: `/api/programs/${id}/links`,
})
export const distancesQuestion: Question<DistancesAnswer> = { path: '/api/distances' }
export const accessQuestion: Question<{ access: Access[] }> = { path: '/api/access' }
export const musterQuestion = (version: string | null): Question<MusterAnswerShape> => ({
  path: withQuery('/api/muster', { version }),
})

export const trapYardsQuestion = (species: string | null): Question<TrapYardsAnswer> => ({
  path: withQuery('/api/trap-yards', { species }),
})
export const yardTryQuestion = (species: string, points: readonly number[]): Question<YardTryAnswer> => ({
  path: withQuery('/api/trap-yards/try', { species, points: points.join(',') }),
})
export const gateHoursQuestion = (filters: Filters): Question<GateHoursAnswer> => ({
  path: withQuery('/api/trap-yards/hours', filters),
})
export const yardPlansQuestion: Question<YardPlansAnswer> = { path: '/api/trap-yards/plans' }
export const yardPlanQuestion = (id: string): Question<YardPlanAnswer> => ({
  path: `/api/trap-yards/plans/${id}`,
})
export const didItWorkQuestion = (id: number, filters: Filters): Question<DidItWorkAnswer> => ({
  path: withQuery(`/api/programs/${id}/did-it-work`, filters),
})

export const yardSheetQuestion: Question<YardSheetAnswer> = { path: '/api/yard-sheet' }
export const trapHoursQuestion: Question<TrapHoursAnswer> = { path: '/api/trap-hours' }
export const trapLogQuestion = (pointId: number, limit: number): Question<TrapLogAnswer> => ({
  path: withQuery(`/api/points/${pointId}/trap-log`, { limit }),
})
export const outcomesQuestion = (filters: Filters): Question<OutcomesAnswer> => ({
  path: withQuery('/api/outcomes', filters),
})
export const programOutcomesQuestion = (programId: number): Question<OutcomesAnswer> => ({
  path: `/api/programs/${programId}/outcomes`,
})
export const jobsQuestion = (filters: Filters): Question<JobsAnswer> => ({
  path: withQuery('/api/jobs', filters),
})
export const sourcesQuestion = (cameraId: number): Question<SourcesAnswer> => ({
  path: `/api/cameras/${cameraId}/sources`,
})
export const batteriesQuestion: Question<BatteriesAnswer> = { path: '/api/batteries' }
export const intakeLimitsQuestion: Question<IntakeLimitsAnswer> = { path: '/api/intake-limits' }
