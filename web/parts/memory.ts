/** Small choices kept on this phone; a browser that keeps nothing only forgets them. */

const PREFIX = 'hooftally:'
/** Where the browser's store is shut (private windows), the choice lives as long as the page. */
const spare = new Map<string, string>()

export function remembered(name: string): string | null {
  try {
    return localStorage.getItem(PREFIX + name) ?? spare.get(name) ?? null
  } catch {
    return spare.get(name) ?? null
  }
}

export function remember(name: string, value: string): void {
  spare.set(name, value)
  try {
    localStorage.setItem(PREFIX + name, value)
  } catch {
    // Kept in `spare` above: nothing more can be done, and nothing is lost but the choice.
  }
}
