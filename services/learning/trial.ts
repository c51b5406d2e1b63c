/** May the station's own namer take the base's place? Tried on nights it has not seen, and asked seldom. */
import type { Name } from '../words.ts'
import { type CountMarks, countedAs } from './counted-as.ts'
import type { CheckedCrop } from './crop.ts'
import { foldsOfNights } from './folds.ts'
import { BASE_NAMES, sixNameOf } from './kinds.ts'
import { nightCameraOf } from './learned-kinds.ts'
import { signFlipP } from './sign-flip.ts'
import { isSpoilt } from './spoilt.ts'
import { type Lesson, learnable, learnFrom, nameByStation } from './station-namer.ts'

/** Chance that a namer which is no better takes the base's place at one asking. */
export const TRIAL_LEVEL = 0.01
/** Fewer checked crops than this are not worth asking (common practice, no source). */
export const FIRST_ASKING_CROPS = 60

/** How two namers did on one of the six names. */
export interface NameTrial {
  readonly name: Name
  readonly crops: number
  /** Crops of it that were counted as another, or not counted; of "other": that were counted. */
  readonly baseWrong: number
  readonly stationWrong: number
  /** Crops of others that were counted as it; of "other": that were not counted. */
  readonly baseFalse: number
  readonly stationFalse: number
  /** The station's namer does it harm. */
  readonly isSpoilt: boolean
}

export const VERDICTS = ['take', 'no better than chance', 'worse for a species', 'too few nights'] as const

export interface Trial {
  readonly crops: number
  readonly nightCameras: number
  readonly baseWrong: number
  readonly stationWrong: number
  /** Of no difference between the two, one-sided; 0 to 1. */
  readonly p: number
  readonly ofEach: readonly NameTrial[]
  readonly verdict: (typeof VERDICTS)[number]
}

/**
 * Nested cross-validation over nights: each fold is named by a namer that learned, its ridge included, from the other
 * nights alone. Judged on what the station counts: the six names once the detector has had its say, at the owner's
 * `marks`, an own kind being "other". The namer is taken if the sign-flip test over night-cameras gives at most
 * `TRIAL_LEVEL` and no species' count is spoilt.
 */
export function tryStationNamer(
  crops: readonly CheckedCrop[],
  given: Lesson & { readonly marks: CountMarks },
): Trial {
  const { kinds, seed, marks } = given
  const folds = foldsOfNights(crops, { seed: `${seed}/trial` })
  const outcomes: Outcome[] = []
  if (folds.length > 0) {
    const prepared = learnable(crops, kinds)
    for (const { learn, judge } of folds) {
      const namer = learnFrom(crops, prepared, { ...given, rows: learn })
      const judged = [...judge].map((row) => crops[row]!)
      for (const [i, { scores }] of nameByStation(namer, judged).entries()) {
        const crop = judged[i]!
        outcomes.push({
          nightCamera: nightCameraOf(crop),
          truth: sixNameOf(crop.kind),
          base: countedAs({ detector: crop.detector, namer: crop.scores }, marks),
          station: countedAs({ detector: crop.detector, namer: scores }, marks),
        })
      }
    }
  }
  return compareNamers(outcomes)
}

/** One crop as it truly is, and as it would be counted with each namer. */
export interface Outcome {
  readonly nightCamera: string
  readonly truth: Name
  readonly base: Name
  readonly station: Name
}

/** What the outcomes come to, and the verdict. */
export function compareNamers(outcomes: readonly Outcome[]): Trial {
  const gains = new Map<string, number>()
  for (const { nightCamera, truth, base, station } of outcomes)
    gains.set(nightCamera, (gains.get(nightCamera) ?? 0) + Number(station === truth) - Number(base === truth))
  const p = signFlipP([...gains.values()])
  const ofEach = BASE_NAMES.map((name) => nameTrial(outcomes, name)).filter((each) => each.crops > 0)
  const verdict =
    2 ** -gains.size > TRIAL_LEVEL
      ? 'too few nights'
      : p > TRIAL_LEVEL
        ? 'no better than chance'
        : ofEach.some((each) => each.isSpoilt)
          ? 'worse for a species'
          : 'take'
  const wrong = (of: 'base' | 'station') => outcomes.filter((one) => one[of] !== one.truth).length
  return {
    crops: outcomes.length,
    nightCameras: gains.size,
    baseWrong: wrong('base'),
    stationWrong: wrong('station'),
    p,
    ofEach,
    verdict,
  }
}

function nameTrial(outcomes: readonly Outcome[], name: Name): NameTrial {
  const of = outcomes.filter(({ truth }) => truth === name)
  const others = outcomes.filter(({ truth }) => truth !== name)
  const count = (some: readonly Outcome[], is: (one: Outcome) => boolean) => some.filter(is).length
  return {
    name,
    crops: of.length,
    baseWrong: count(of, ({ base }) => base !== name),
    stationWrong: count(of, ({ station }) => station !== name),
    baseFalse: count(others, ({ base }) => base === name),
    stationFalse: count(others, ({ station }) => station === name),
    // "Other" is not counted: what it loses is what the species gain falsely.
    isSpoilt: name !== 'other' && isSpoilt(outcomes, name),
  }
}

/**
 * At how many checked crops it is time to ask: once per doubling, as every asking is a chance of its own to be taken in.
 * `before`: checked crops at the last asking, null if there was none.
 */
export function nextAsking(before: number | null): number {
  return before === null ? FIRST_ASKING_CROPS : 2 * before
}

export function isTimeToAsk(checkedCrops: number, before: number | null): boolean {
  return checkedCrops >= nextAsking(before)
}
