import { expect, test } from 'vitest'
import { mailDate } from '../../../services/mail/mail-date.ts'

const isoOf = (written: string) => {
  const at = mailDate(written)
  return at === null ? null : new Date(at).toISOString()
}

// RFC 5322, appendices A.1.1, A.5 and A.6.2 and section 4.3; the rest by its grammar.
test.each([
  ['Fri, 21 Nov 1997 09:55:06 -0600', '1997-11-21T15:55:06.000Z'],
  [
    'Thu,\r\n      13\r\n        Feb\r\n          1969\r\n      23:32\r\n               -0330 (Newfoundland Time)',
    null,
  ],
  ['Thu, 13 Feb 1975 23:32 -0330 (Newfoundland Time)', '1975-02-14T03:02:00.000Z'],
  ['21 Nov 97 09:55:06 GMT', '1997-11-21T09:55:06.000Z'],
  ['24 Nov 26 21:30:05 EST', '2026-11-25T02:30:05.000Z'],
  ['Tue, 24 Nov 2026 21:30:05 +1030', '2026-11-24T11:00:05.000Z'],
  ['tue, 4 nov 2026 1:30 ZULU', '2026-11-04T01:30:00.000Z'],
])('%j is %s', (written, iso) => expect(isoOf(written)).toBe(iso))

test.each([
  ['', 'nothing'],
  ['soon', 'a word'],
  ['Tue, 24 Nov 2026 21:30:05', 'a time without a zone'],
  ['Tue, 31 Nov 2026 21:30:05 +1030', 'a day that no calendar has'],
  ['Tue, 24 Foo 2026 21:30:05 +1030', 'no month'],
  ['Tue, 24 Nov 2026 25:30:05 +1030', 'no hour'],
  ['Tue, 24 Nov 2026 21:30:05 +2400', 'no zone on land'],
  ['Tue, 24 Nov 2026 21:30:05 +0975', 'no zone on land'],
])('%j is no date: %s', (written) => expect(mailDate(written)).toBeNull())
