/** The shapes of the answers about blind looks: nothing that the machine said is in them before a person has spoken. */
import { z } from 'zod'
import { KEPT } from '../tally/keeping.ts'
import { stillShape, tallyShape } from './shapes.ts'

const localTime = z.iso.datetime({ offset: true })
const nightDate = z.iso.date()
const count = z.int().nonnegative()

export const auditShape = z.object({
  id: count,
  /** Nights, Monday's to Sunday's. */
  from: nightDate,
  to: nightDate,
  drawnAt: localTime,
  /** With it anyone can draw again (services/tally/lot.ts). */
  seed: z.string(),
  looks: count,
  lookedAt: count,
  /** Looks that could not be drawn: a photo of theirs had been let go. */
  couldNotBeDrawn: count,
})
export const auditsAnswer = z.object({
  /** Drawn a week on each side: of what was flagged, and of what was not. */
  looksAWeek: count,
  /** The week that is drawn next. */
  next: z.object({ from: nightDate, to: nightDate, drawnFrom: localTime }),
  audits: z.array(auditShape),
})

export const openLookShape = z.object({
  id: count,
  auditId: count,
  week: nightDate,
  pointName: z.string(),
  cameraName: z.string(),
  photos: z.array(
    z.object({
      id: count,
      takenAt: localTime,
      width: count.nullable(),
      height: count.nullable(),
      kept: z.enum(KEPT),
      smallUrl: z.string(),
      fullUrl: z.string(),
    }),
  ),
})
export const openLooksAnswer = z.object({
  /** Of all weeks that still ask. */
  open: count,
  looks: z.array(openLookShape),
})
/** What the machine had said of the look, after a person has. */
export const lookRecorded = z.object({
  stills: z.array(stillShape),
  /** By photo, in the order of `stills`: what the person said; null where it was taken back. */
  said: z.array(tallyShape.nullable()),
})

export type AuditAnswer = z.infer<typeof auditShape>
export type AuditsAnswer = z.infer<typeof auditsAnswer>
export type OpenLook = z.infer<typeof openLookShape>
export type OpenLooksAnswer = z.infer<typeof openLooksAnswer>
export type LookRecorded = z.infer<typeof lookRecorded>
