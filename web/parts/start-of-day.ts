/** From a day in a calendar to the instant it began at the station. */

const DATE = /^\d{4}-\d\d-\d\d$/

/**
 * `2026-11-25T00:00:00+10:30`: when a day (`2026-11-25`) began in a zone (an IANA name); what is no day comes back as it
 * was typed: the service then says so, at the field.
 */
export function startOfDay(date: string, zone: string): string {
  const midnightUtc = Date.parse(`${date}T00:00:00Z`)
  if (!DATE.test(date) || Number.isNaN(midnightUtc)) return date
  // Midnight UTC may lie beyond a change of clocks; the offset at the midnight that it leads to is the day's own.
  const nearly = Date.parse(`${date}T00:00:00${offsetAt(midnightUtc, zone)}`)
  return `${date}T00:00:00${offsetAt(nearly, zone)}`
}

function offsetAt(at: number, zone: string): string {
  const parts = new Intl.DateTimeFormat('en', { timeZone: zone, timeZoneName: 'longOffset' }).formatToParts(
    at,
  )
  const name = parts.find(({ type }) => type === 'timeZoneName')?.value ?? ''
  // `GMT+10:30`; at the meridian itself only `GMT`.
  return name.replace('GMT', '') || '+00:00'
}
