/** From a day in a calendar, and a time on the wall, to the instant at the station. */

const DATE = /^\d{4}-\d\d-\d\d$/

/**
 * `2026-11-25T00:00:00+10:30`: when a day (`2026-11-25`) began in a zone (an IANA name); what is no day comes back as it
 * was typed: the service then says so, at the field.
 */
export function startOfDay(date: string, zone: string): string {
  return atWallClock(date, '00:00:00', zone)
}

/** `2026-11-25T21:40:00+10:30`: a day and a clock time (`21:40` or `21:40:05`) in a zone; what is neither comes back as typed. */
export function atWallClock(date: string, clock: string, zone: string): string {
  const wall = `${date}T${clock.length === 5 ? `${clock}:00` : clock}`
  const asUtc = Date.parse(`${wall}Z`)
  if (!DATE.test(date) || Number.isNaN(asUtc)) return clock === '00:00:00' ? date : wall
  // The same wall time in UTC may lie beyond a change of clocks; the offset at the instant that it leads to is its own.
  const nearly = Date.parse(`${wall}${offsetAt(asUtc, zone)}`)
  return `${wall}${offsetAt(nearly, zone)}`
}

function offsetAt(at: number, zone: string): string {
  const parts = new Intl.DateTimeFormat('en', { timeZone: zone, timeZoneName: 'longOffset' }).formatToParts(
    at,
  )
  const name = parts.find(({ type }) => type === 'timeZoneName')?.value ?? ''
  // `GMT+10:30`; at the meridian itself only `GMT`.
  return name.replace('GMT', '') || '+00:00'
}
