/** A worker speaks every quarter of a minute; after so long without a word it is taken for gone. */
export const SILENT_MS = 3 * 60_000
