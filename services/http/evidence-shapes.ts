/** The shapes of the answers about how right the camera count is. Shares and scores are 0 to 1. */
import { z } from 'zod'
import { modelsShape, roleShape, speciesShape } from './shapes.ts'

const nightDate = z.iso.date()
const count = z.int().nonnegative()
const share = z.object({ share: z.number(), low: z.number(), high: z.number() })
const lightShape = z.enum(['day', 'infra-red', 'not measured'])
/** Looks drawn that have a word, looks that people had had before the draw, and how many of both were so. */
const looked = { drawn: count, before: count, hits: count }
const notEnough = z.object({ kind: z.literal('not enough checked to say'), more: count })

export const toldShareShape = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('said'), ...share.shape, ...looked }),
  notEnough.extend(looked),
])
const correctedShape = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('corrected'), total: z.number(), low: z.number(), high: z.number() }),
  z.object({ kind: z.literal('no difference found'), total: z.number(), looksThatMayDiffer: count }),
  notEnough,
])
const seenAndCorrected = z.object({
  /** The count as it stood at the draw. */
  seen: z.int(),
  corrected: correctedShape,
})

export const evidenceAnswer = z.object({
  /** Weeks with blind looks that are told together, newest first. */
  weeks: z.array(z.object({ from: nightDate, to: nightDate, looks: count, lookedAt: count })),
  /** Versions of the models that had looked at what was drawn: what is told is of all of them together. */
  versions: count,
  /** None found in so many looks is under one in a hundred. */
  noneFoundUnderOnePercent: count,
  species: z.array(
    z.object({
      species: speciesShape,
      role: roleShape,
      /** Flagged as it, and truly so. */
      right: toldShareShape,
      /** Not flagged, and it was there and not counted. */
      missed: toldShareShape,
      /** Of the looks that hold it, those flagged as it; feral species only, and null where it can't be told. */
      found: share.nullable(),
    }),
  ),
  /** All species flagged together, and the feral ones missed. */
  lights: z.array(z.object({ light: lightShape, right: toldShareShape, missed: toldShareShape })),
  cameras: z.array(
    z.object({ cameraId: count, cameraName: z.string(), right: toldShareShape, missed: toldShareShape }),
  ),
  /** The latest week with its words (else the latest), and all such weeks together where there are more; none before the first draw. */
  counts: z.array(
    z.object({
      from: nightDate,
      to: nightDate,
      weeks: z.int().positive(),
      species: z.array(z.object({ species: speciesShape, visits: seenAndCorrected, head: seenAndCorrected })),
      /** Points where the looks are enough to say. */
      points: z.array(
        z.object({
          pointId: count,
          pointName: z.string(),
          species: speciesShape,
          visits: seenAndCorrected,
          head: seenAndCorrected,
        }),
      ),
    }),
  ),
})

const rightOf = { right: count, of: count, share: share.nullable() }
export const modelEvidenceShape = z.object({
  /** `stationNamer`: the version of the station's own namer that named after them; null for the models alone. */
  models: modelsShape.extend({ stationNamer: count.nullable() }),
  /** The one that looks at photos now. */
  present: z.boolean(),
  photos: count,
  blind: count,
  untold: count,
  /** Photos left out because the station's own namer learned from them. */
  learnedFrom: count,
  /** Rows: what they truly were. Columns: what they were named. Both in the order of `names`. */
  confusion: z.object({
    names: z.array(z.union([speciesShape, z.literal('other')])),
    counts: z.array(z.array(count)),
    animals: count,
    wrong: count,
  }),
  byLight: z.array(z.object({ light: lightShape, ...rightOf })),
  byCamera: z.array(z.object({ cameraId: count, cameraName: z.string(), ...rightOf })),
  reliability: z.array(
    z.object({
      from: z.number(),
      to: z.number(),
      count,
      meanScore: z.number(),
      observed: share,
    }),
  ),
  brier: z.number().nullable(),
  /** The figures of the models' card; null for models without. */
  card: z
    .array(z.object({ name: z.string(), right: z.partialRecord(speciesShape, z.tuple([count, count])) }))
    .nullable(),
})
export const modelEvidenceAnswer = z.object({ models: z.array(modelEvidenceShape) })

/** What one mark does: numbers of photos by their weights, and the photos of last week. */
const markStep = z.object({
  mark: z.number(),
  flagged: z.number(),
  falseFlags: z.number(),
  missed: z.number(),
  precision: z.number().nullable(),
  recall: z.number().nullable(),
  /** Photos of last week worth a look, were this the mark from which the species is worth one. */
  toLookAt: count,
  /** Photos of last week on which it would be counted, were this the mark from which it is. */
  counted: count,
})
export const marksAnswer = z.object({
  species: speciesShape,
  role: roleShape,
  flagThreshold: z.number(),
  countThreshold: z.number(),
  /** Blind looks with what had been looked at before them, or only photos that people chose. */
  from: z.enum(['looks', 'checks']),
  photos: count,
  /** Of them with the species on them. */
  there: count,
  week: z.object({ from: nightDate, to: nightDate }),
  /** By rising mark, the present ones among them. */
  steps: z.array(markStep),
})

export type ToldShareAnswer = z.infer<typeof toldShareShape>
export type EvidenceAnswer = z.infer<typeof evidenceAnswer>
export type CorrectedAnswer = z.infer<typeof correctedShape>
export type SeenAndCorrectedAnswer = z.infer<typeof seenAndCorrected>
export type ModelEvidenceAnswer = z.infer<typeof modelEvidenceAnswer>
export type ModelEvidenceOfOne = z.infer<typeof modelEvidenceShape>
export type MarksAnswer = z.infer<typeof marksAnswer>
