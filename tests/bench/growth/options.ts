/** What may be said after `growth`: `--stills N...` and `--keep FOLDER`. */
import { resolve } from 'node:path'
import { z } from 'zod'
import { Refusal } from '../../../services/refusal.ts'

const STILLS = [10_000, 1_000_000, 10_000_000]
const FEWEST_STILLS = 1_000
const MOST_STILLS = 100_000_000

export interface GrowthOptions {
  /** Photo rows of each ledger, fewest first. */
  readonly stills: readonly number[]
  /** Where filled ledgers stay, to be measured again without filling them again; null: gone afterwards. */
  readonly keep: string | null
}

const stillsShape = z.coerce.number().int().min(FEWEST_STILLS).max(MOST_STILLS)

/** @throws Refusal naming the option that is wrong. */
export function growthOptions(args: readonly string[]): GrowthOptions {
  let stills = STILLS
  let keep: string | null = null
  const left = [...args]
  while (left.length > 0) {
    const option = left.shift()!
    const next = left.findIndex((word) => word.startsWith('--'))
    const values = left.splice(0, next < 0 ? left.length : next)
    if (option === '--stills') stills = [...new Set(values.map(stillsOf))].sort((a, b) => a - b)
    else if (option === '--keep' && values.length === 1) keep = resolve(values[0]!)
    else if (option !== '--keep') throw refusal(option, `growth has no option "${option}"`)
    if (option === '--keep' && values.length !== 1) throw refusal('--keep', 'expected one folder')
    if (option === '--stills' && values.length === 0)
      throw refusal('--stills', 'expected at least one number')
  }
  return { stills, keep }
}

function stillsOf(word: string): number {
  const parsed = stillsShape.safeParse(word)
  if (parsed.success) return parsed.data
  throw refusal('--stills', `expected whole numbers from ${FEWEST_STILLS} to ${MOST_STILLS}, got "${word}"`)
}

function refusal(field: string, detail: string): Refusal {
  return new Refusal({
    kind: 'bad input',
    field,
    detail: `${field}: ${detail}.`,
    remedy: 'Write it as: growth [--stills 10000 1000000 10000000] [--keep FOLDER]',
  })
}
