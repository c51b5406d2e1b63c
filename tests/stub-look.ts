/** What the stub eye sees: always the same in the same bytes. */
import { type Found, type Looked, type ModelIdentity, SPECIES } from '../services/words.ts'

const EMBEDDING_LENGTH = 8

/** 0 to 3 animals of one species, all from the SHA-256 of the bytes. */
export function stubLook(hash: Buffer, models: ModelIdentity): Extract<Looked, { kind: 'seen' }> {
  const place = hash[0]! % SPECIES.length
  const scores = Array.from({ length: SPECIES.length + 1 }, (_, index) => (index === place ? 0.9 : 0.02))
  const found = Array.from({ length: hash[1]! % 4 }, (_, index): Found => {
    const left = 10 + index * 100
    return {
      species: SPECIES[place]!,
      score: 0.9,
      box: [left, 20, left + 60, 90],
      detector: scores,
      namer: scores,
      embedding: new Float32Array(EMBEDDING_LENGTH).fill(hash[2]! / 256),
    }
  })
  return { kind: 'seen', width: 640, height: 360, found, models }
}
