/** The week's draw of blind looks: some that nobody would have looked at, and some that were flagged. */
import { bandOf, byCameraLightAndScore, type Divisions, type DrawnBurst, drawAudit } from './audit-draw.ts'
import type { Look, LookSide } from './looks.ts'
import { inOrderOfLot } from './lot.ts'

/** Where score bands begin among flagged looks: just flagged, counted, sure. */
const FLAGGED_BANDS_FROM: readonly number[] = [0.5, 0.7]

/** By what the machine took them for first: precision is told for each species. */
const bySpeciesLightAndScore: Divisions<Look> = [
  (look) => `${look.species}, ${look.light}, ${bandOf(look, FLAGGED_BANDS_FROM)}`,
  (look) => `${look.species}, ${bandOf(look, FLAGGED_BANDS_FROM)}`,
  (look) => `${look.species}`,
  () => 'all',
]

export interface DrawnLook extends DrawnBurst<Look> {
  readonly side: LookSide
}

export interface LookDraw {
  /** In the order in which they are asked for: by lot too, so that the order tells nothing of what the machine said. */
  readonly drawn: readonly DrawnLook[]
  readonly strata: ReadonlyArray<{
    readonly side: LookSide
    readonly name: string
    readonly members: readonly Look[]
  }>
}

/** Those that can be drawn: nobody had looked at them, and all their photos can be shown. */
export const canBeDrawn = ({ lookedAt, shown }: Look): boolean => !lookedAt && shown

/** Draws up to `size` looks of each side (services/tally/audit-draw.ts). The same looks and seed give the same draw. */
export function drawLooks(
  looks: readonly Look[],
  { seed, size }: { readonly seed: string; readonly size: number },
): LookDraw {
  if (size === 0) return { drawn: [], strata: [] }
  const sides = (['flagged', 'not flagged'] as const).map((side) => {
    const frame = looks.filter((look) => look.side === side && canBeDrawn(look))
    const divisions = side === 'flagged' ? bySpeciesLightAndScore : byCameraLightAndScore()
    return { side, ...drawAudit(frame, { seed, size, divisions }) }
  })
  return {
    drawn: inOrderOfLot(
      sides.flatMap(({ side, drawn }) => drawn.map((one) => ({ ...one, side }))),
      { seed: `${seed}, in turn`, nameOf: ({ burst }) => String(burst.firstStillId) },
    ),
    strata: sides.flatMap(({ side, strata }) => strata.map(({ name, members }) => ({ side, name, members }))),
  }
}
