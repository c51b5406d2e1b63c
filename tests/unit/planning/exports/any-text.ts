/** Texts of any characters: controls, halves of pairs, and what people write. (The package's own take seconds to set up.) */
import fc from 'fast-check'

const anyCharacter = fc
  .oneof(
    fc.integer({ min: 0, max: 0x7f }),
    fc.integer({ min: 0, max: 0xffff }),
    fc.integer({ min: 0, max: 0x10ffff }),
  )
  .map((code) => String.fromCodePoint(code))

export const anyText = (maxLength = 40) => fc.string({ unit: anyCharacter, maxLength })
