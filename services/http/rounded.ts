const SIGNIFICANT_DIGITS = 4

/** A number as it is answered: more digits than four would say more than is known. Whole numbers stay as they are. */
export function rounded(value: number): number {
  return Number.isInteger(value) ? value : Number(value.toPrecision(SIGNIFICANT_DIGITS))
}
