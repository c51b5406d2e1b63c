/** Between instants and the station's wall clock, for forms: the browser's own zone never comes into it. */

/** `2026-11-25T06:10`: what the station's clock shows, as an input of kind `datetime-local` takes it. */
export function wallOf(atMs: number, zone: string): string {
  const parts = new Intl.DateTimeFormat('en-CA', {
    timeZone: zone,
    hourCycle: 'h23',
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
  }).formatToParts(new Date(atMs))
  const of = (type: Intl.DateTimeFormatPartTypes) => parts.find((part) => part.type === type)?.value ?? ''
  return `${of('year').padStart(4, '0')}-${of('month')}-${of('day')}T${of('hour')}:${of('minute')}`
}

/**
 * The instant at which the station's clock showed this; NaN for what is no such time. Of an hour that was lived twice the
 * earlier, and one that was skipped moves forward by the gap, as in the service.
 */
export function instantOf(wall: string, zone: string): number {
  const asUtc = Date.parse(`${wall}:00Z`)
  if (!/^\d{4}-\d\d-\d\dT\d\d:\d\d$/.test(wall) || Number.isNaN(asUtc)) return Number.NaN
  const offsetAt = (ms: number) => Date.parse(`${wallOf(ms, zone)}:00Z`) - ms
  const DAY_MS = 86_400_000
  // The offsets before and after whatever change of clocks is near: no zone has two within a day.
  const [before, after] = [offsetAt(asUtc - DAY_MS), offsetAt(asUtc + DAY_MS)]
  const fits = [asUtc - before, asUtc - after].filter((ms) => wallOf(ms, zone) === wall)
  return fits.length > 0 ? Math.min(...fits) : asUtc - before
}
