import { expect, test } from 'vitest'
import { fieldWords } from '../../../web/text/failures.ts'

/** As services/http/parse.ts ends every refusal of a field. */
const FOR_SCRIPTS = 'Correct this field and send it again; docs/api.md says what it may hold.'

const refused = (field: string, message: string, remedy = FOR_SCRIPTS) =>
  fieldWords({ field, what: `${field}: ${message}.`, remedy, status: 400 })

test('beside its field a refusal needs neither the name that scripts use nor the page for scripts', () => {
  expect(refused('homestead.lat', 'a latitude lies between -90 and 90 degrees')).toBe(
    'A latitude lies between -90 and 90 degrees. Correct it and save again.',
  )
})

// The left sides are the messages of zod 4 in English, as its schemas give them.
test.each([
  ['Too big: expected number to be <=1440', 'At most 1440.'],
  ['Too small: expected number to be >=0', 'At least 0.'],
  ['Invalid input: expected number, received string', 'A number.'],
  ['Invalid input: expected int, received number', 'A whole number, without decimals.'],
  ['Too small: expected string to have >=1 characters', 'Something has to stand here.'],
])('"%s" is said as "%s"', (message, words) => {
  expect(refused('visitGapMinutes', message)).toBe(`${words} Correct it and save again.`)
})

test('a remedy of its own is kept', () => {
  expect(refused('name', 'taken by another point', 'Choose another name.')).toBe(
    'Taken by another point. Choose another name.',
  )
})
