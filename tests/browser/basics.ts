/** What every screen owes everyone: names, one heading, room for a thumb, no sideways scroll. Run inside the page. */
import type { Page } from 'playwright-core'

export interface Faults {
  readonly headings: number
  readonly nameless: readonly string[]
  readonly small: readonly string[]
  readonly noAlt: number
  readonly noLabel: readonly string[]
  readonly doubleIds: readonly string[]
  readonly sidewaysPx: number
}

export const LEAST_BUTTON_PX = 48

export async function faultsOf(page: Page): Promise<Faults> {
  return page.evaluate((leastPx) => {
    const shown = (element: Element) => {
      const { width, height } = element.getBoundingClientRect()
      return width > 1 && height > 1
    }
    const all = (selector: string) => [...document.querySelectorAll(selector)].filter(shown)
    const words = (element: Element) =>
      element.getAttribute('aria-label') ??
      [element.textContent, ...[...element.querySelectorAll('img')].map((image) => image.alt)].join(' ')
    const told = (element: Element) => element.outerHTML.slice(0, 160)
    const ids = [...document.querySelectorAll('[id]')].map((element) => element.id)
    return {
      headings: document.querySelectorAll('h1').length,
      nameless: all('a[href], button, summary')
        .filter((element) => words(element).trim() === '')
        .map(told),
      small: all('button, a.button, summary, select, .tabs a, input[type="text"]')
        .filter((element) => element.getBoundingClientRect().height < leastPx)
        .map(told),
      noAlt: document.querySelectorAll('img:not([alt])').length,
      noLabel: ([...document.querySelectorAll('input, select')] as (HTMLInputElement | HTMLSelectElement)[])
        .filter((input) => (input.labels?.length ?? 0) === 0)
        .map(told),
      doubleIds: ids.filter((id, at) => ids.indexOf(id) !== at),
      sidewaysPx: document.documentElement.scrollWidth - document.documentElement.clientWidth,
    }
  }, LEAST_BUTTON_PX)
}

export const NO_FAULTS: Faults = {
  headings: 1,
  nameless: [],
  small: [],
  noAlt: 0,
  noLabel: [],
  doubleIds: [],
  sidewaysPx: 0,
}
