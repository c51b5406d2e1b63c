/** Invented animals for a station's own namer: each kind looks its own way, and the models take camels for horses. */
import { BASE_NAMES, sixNameOf } from '../../services/learning/kinds.ts'
import type { Outcome } from '../../services/queue/station-of-worker.ts'
import type { Found, ModelIdentity } from '../../services/words.ts'
import { bestSpecies, pooledScores } from '../../worker/eye/pool.ts'

const NUMBERS = 40

/** Park & Miller's minimal standard generator (1988, doi:10.1145/63039.63042), so that each run is one and the same. */
function seeded(seed: number): () => number {
  let state = seed
  return () => {
    state = (state * 48_271) % 2_147_483_647
    return state / 2_147_483_647
  }
}

export interface InventedAnimals {
  /** What the eye says of a photo with these animals on it. */
  look(kinds: readonly string[], models: ModelIdentity): Extract<Outcome, { kind: 'seen' }>
}

export function inventedAnimals(seed: number): InventedAnimals {
  const random = seeded(seed)
  const noise = () => random() + random() + random() - 1.5
  const looks = new Map<string, number[]>()
  function boxOf(kind: string, place: number): Found {
    if (!looks.has(kind)) looks.set(kind, Array.from({ length: NUMBERS }, noise))
    // A camel here looks to the models more like a horse; a sheep, which they do not know, like a goat.
    const taken = kind === 'camel' ? 'horse' : kind === 'sheep' ? 'goat' : sixNameOf(kind)
    const second = kind === 'camel' ? 'camel' : 'other'
    const namer = BASE_NAMES.map((name) => (name === taken ? 0.6 : name === second ? 0.32 : 0.02))
    const detector = BASE_NAMES.map((name) => (name === taken || name === second ? 0.8 : 0.1))
    const { species, score } = bestSpecies(pooledScores({ detector, namer }))
    return {
      species,
      score,
      box: [place * 60, 0, place * 60 + 40, 40],
      detector,
      namer,
      embedding: Float32Array.from(looks.get(kind)!, (part) => part + 0.3 * noise()),
    }
  }
  return {
    look: (kinds, models) => ({
      kind: 'seen',
      width: 640,
      height: 360,
      found: kinds.map(boxOf),
      models,
    }),
  }
}
