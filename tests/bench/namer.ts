/** How many false names the station's own namer saves, and how long it takes to learn. */

import { learnStationNamer } from '../../services/learning/station-namer.ts'
import { tryStationNamer } from '../../services/learning/trial.ts'
import {
  readStationCrops,
  STATION_KINDS,
  type StationCrop,
  sumUp,
  trySplit,
} from '../reference/station-namer.ts'

const SPLITS = 50
const MANY_CROPS = 2000

const MARKS = { cattle: 0.5, camel: 0.5, horse: 0.5, donkey: 0.5, goat: 0.5 }

/** Prints the mean over 50 seeded splits of nights, the trial on all crops as the product holds it, and the time to learn from 2,000 crops (ridge and all). */
export async function benchNamer(): Promise<void> {
  const crops = await readStationCrops()
  const splits = Array.from({ length: SPLITS }, (_, split) => trySplit(crops, split))
  const { baseWrong, stationWrong, saved } = sumUp(splits)
  const better = splits.filter((split) => split.stationWrong < split.baseWrong).length
  console.log(
    `namer: ${percent(baseWrong)} of names on unseen nights wrong as it comes, ${percent(stationWrong)} with the ` +
      `station's own (${percent(saved)} of false names saved; better in ${better} of ${SPLITS} splits)`,
  )
  const trial = tryStationNamer(crops, { kinds: STATION_KINDS, seed: 'bench', marks: MARKS })
  const ofEach = trial.ofEach.map(
    (one) =>
      `${one.name} ${one.baseWrong} missed and ${one.baseFalse} false, then ${one.stationWrong} and ${one.stationFalse}`,
  )
  console.log(
    `namer: the trial on all ${trial.crops} crops says "${trial.verdict}": ${trial.baseWrong} counted wrongly as it ` +
      `comes, ${trial.stationWrong} with the station's own (p ${trial.p.toFixed(4)}); ${ofEach.join('; ')}`,
  )
  const many = Array.from({ length: MANY_CROPS }, (_, i) => altered(crops, i))
  const startedMs = performance.now()
  const cpu = process.cpuUsage()
  const { ridge } = learnStationNamer(many, { kinds: STATION_KINDS, seed: 'bench' })
  const { user, system } = process.cpuUsage(cpu)
  console.log(
    `namer: learns from ${MANY_CROPS} crops x ${crops[0]!.embedding.length} numbers in ` +
      `${((performance.now() - startedMs) / 1000).toFixed(1)} s, ${((user + system) / 1e6).toFixed(1)} s of ` +
      `processor time (ridge ${ridge})`,
  )
}

/** A crop between two of one kind, as there are too few real ones to fill the bench. */
function altered(crops: readonly StationCrop[], i: number): StationCrop {
  const one = crops[i % crops.length]!
  const alike = crops.filter(({ kind }) => kind === one.kind)
  const other = alike[(i * 7) % alike.length]!
  const share = ((i * 13) % 30) / 100
  return {
    ...one,
    embedding: Float32Array.from(one.embedding, (value, j) => value + share * (other.embedding[j]! - value)),
  }
}

const percent = (share: number) => `${(100 * share).toFixed(1)} %`
