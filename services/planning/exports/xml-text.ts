/** Text inside XML 1.0 (W3C Recommendation, fifth edition, 2008). */

/** What production 2 (Char) of XML 1.0 leaves out: most control characters, halves of pairs, U+FFFE and U+FFFF. */
const NO_CHAR = /[^\t\n\r\u{20}-\u{D7FF}\u{E000}-\u{FFFD}\u{10000}-\u{10FFFF}]/gu

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&apos;',
  // A reader makes a bare CR a line feed (section 2.11).
  '\r': '&#13;',
}

/** Safe between tags and in quotes; what no XML can hold is left out. */
export const xmlText = (text: string): string =>
  text.replace(NO_CHAR, '').replace(/[&<>"'\r]/g, (char) => ENTITIES[char]!)

/** An element with its text, or nothing where there is none. */
export const xmlElement = (name: string, text: string | null): string =>
  text === null || text === '' ? '' : `<${name}>${xmlText(text)}</${name}>`

export const XML_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
