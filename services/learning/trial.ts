/** May the station's own namer take the base's place? Tried on nights it has not seen, and asked seldom. */
import type { CheckedCrop } from './crop.ts'
import { foldsOfNights } from './folds.ts'
import { BASE_NAMES, type Kind } from './kinds.ts'
import { signFlipP } from './sign-flip.ts'
import { learnable, learnFrom, nameByStation } from './station-namer.ts'

/** Chance that a namer which is no better takes the base's place at one asking. */
export const TRIAL_LEVEL = 0.01
/** A namer that names so much more of one species wrongly (share of its crops) is not taken (common practice, no source). */
export const MOST_WORSE = 0.05
/** Fewer checked crops than this are not worth asking (common practice, no source). */
export const FIRST_ASKING_CROPS = 60

/** How two namers did on the crops of one of the six names. */
export interface NameTrial {
  readonly name: Kind
  readonly crops: number
  /** Crops of it that got another name. */
  readonly baseWrong: number
  readonly stationWrong: number
}

export interface Trial {
  readonly crops: number
  readonly nightCameras: number
  readonly baseWrong: number
  readonly stationWrong: number
  /** Of no difference between the two, one-sided; 0 to 1. */
  readonly p: number
  readonly ofEach: readonly NameTrial[]
  readonly verdict: 'take' | 'no better than chance' | 'worse for a species' | 'too few nights'
}

/**
 * Nested cross-validation over nights: each fold is named by a namer that learned, its ridge included, from the other
 * nights alone. Judged on the six names, an own kind being "other". The namer is taken if the sign-flip test over
 * night-cameras gives at most `TRIAL_LEVEL` and no species has more than `mostWorse` of its crops more named wrongly.
 */
export function tryStationNamer(
  crops: readonly CheckedCrop[],
  given: { readonly kinds: readonly Kind[]; readonly seed: string; readonly mostWorse?: number },
): Trial {
  const { kinds, seed, mostWorse = MOST_WORSE } = given
  const folds = foldsOfNights(crops, { seed: `${seed}/trial` })
  const outcomes: Outcome[] = []
  if (folds.length > 0) {
    const prepared = learnable(crops, kinds)
    for (const { learn, judge } of folds) {
      const namer = learnFrom(crops, prepared, { kinds, seed, rows: learn })
      const judged = [...judge].map((row) => crops[row]!)
      for (const [i, { scores }] of nameByStation(namer, judged).entries())
        outcomes.push(outcomeOf(judged[i]!, scores))
    }
  }
  return compareNamers(outcomes, mostWorse)
}

/** One crop as both namers named it; names are among the six. */
export interface Outcome {
  readonly nightCamera: string
  readonly truth: Kind
  readonly baseRight: boolean
  readonly stationRight: boolean
}

/** What the outcomes come to, and the verdict. */
export function compareNamers(outcomes: readonly Outcome[], mostWorse = MOST_WORSE): Trial {
  const gains = new Map<string, number>()
  for (const { nightCamera, baseRight, stationRight } of outcomes)
    gains.set(nightCamera, (gains.get(nightCamera) ?? 0) + Number(stationRight) - Number(baseRight))
  const p = signFlipP([...gains.values()])
  const ofEach = BASE_NAMES.map((name) => {
    const of = outcomes.filter(({ truth }) => truth === name)
    return { name, ...wrongIn(of) }
  }).filter((each) => each.crops > 0)
  const isWorse = ofEach.some((each) => each.stationWrong - each.baseWrong > mostWorse * each.crops)
  const verdict =
    2 ** -gains.size > TRIAL_LEVEL
      ? 'too few nights'
      : p > TRIAL_LEVEL
        ? 'no better than chance'
        : isWorse
          ? 'worse for a species'
          : 'take'
  return { nightCameras: gains.size, ...wrongIn(outcomes), p, ofEach, verdict }
}

/**
 * Whether it is time to ask: once per doubling of the checks, as every asking is a chance of its own to be taken in.
 * `before`: checked crops at the last asking, null if there was none.
 */
export function isTimeToAsk(checkedCrops: number, before: number | null): boolean {
  return checkedCrops >= (before === null ? FIRST_ASKING_CROPS : 2 * before)
}

function outcomeOf(crop: CheckedCrop, stationScores: readonly number[]): Outcome {
  const truth = (BASE_NAMES as readonly Kind[]).includes(crop.kind) ? crop.kind : 'other'
  return {
    nightCamera: JSON.stringify([crop.night, crop.camera]),
    truth,
    baseRight: bestName(crop.scores) === truth,
    stationRight: bestName(stationScores) === truth,
  }
}

/** The name with the highest of six scores; of equals the first. */
export const bestName = (scores: readonly number[]): Kind => BASE_NAMES[scores.indexOf(Math.max(...scores))]!

function wrongIn(outcomes: readonly Outcome[]) {
  return {
    crops: outcomes.length,
    baseWrong: outcomes.filter(({ baseRight }) => !baseRight).length,
    stationWrong: outcomes.filter(({ stationRight }) => !stationRight).length,
  }
}
