/**
 * Times in the station's own wall clock. They come as ISO 8601 with the station's offset, so the clock on the
 * wall is read off the string; the browser's zone never comes into it.
 */

const DAY_NAMES = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'] as const
const MONTH_NAMES = [
  'Jan',
  'Feb',
  'Mar',
  'Apr',
  'May',
  'Jun',
  'Jul',
  'Aug',
  'Sep',
  'Oct',
  'Nov',
  'Dec',
] as const
const MINUTE_MS = 60_000
const HOUR_MS = 3_600_000
const DAY_MS = 86_400_000

/** `21:40` */
export function clockOf(time: string): string {
  return time.slice(11, 16)
}

/** `2026-11-24` */
export function dateOf(time: string): string {
  return time.slice(0, 10)
}

/** `Tue 24 Nov` of a date or a time. */
export function dayName(dateOrTime: string): string {
  const at = new Date(`${dateOrTime.slice(0, 10)}T00:00:00Z`)
  return `${DAY_NAMES[at.getUTCDay()]} ${at.getUTCDate()} ${MONTH_NAMES[at.getUTCMonth()]}`
}

/** `Tue 24 Nov, 21:40` */
export function dayAndClock(time: string): string {
  return `${dayName(time)}, ${clockOf(time)}`
}

/** `21:40 to 22:15`, or one clock time where both are the same minute. */
export function clockSpan(from: string, to: string): string {
  const [start, end] = [clockOf(from), clockOf(to)]
  return start === end && dateOf(from) === dateOf(to) ? start : `${start} to ${end}`
}

/** `4 days`, `3 h`, `40 min`: how long from one time to another, rounded down; less than a minute is `1 min`. */
export function lengthOf(from: string, to: string): string {
  const ms = Math.max(0, Date.parse(to) - Date.parse(from))
  if (ms >= 2 * DAY_MS) return `${Math.floor(ms / DAY_MS)} days`
  if (ms >= HOUR_MS) return `${Math.floor(ms / HOUR_MS)} h`
  return `${Math.max(1, Math.floor(ms / MINUTE_MS))} min`
}

/** `just now`, `40 min ago`, `3 h ago`, `4 days ago`. */
export function age(then: string, now: string): string {
  if (Date.parse(now) - Date.parse(then) < MINUTE_MS) return 'just now'
  return `${lengthOf(then, now)} ago`
}

/** The night `by` nights later (or earlier, when negative). */
export function nightAfter(night: string, by: number): string {
  return new Date(Date.parse(`${night}T00:00:00Z`) + by * DAY_MS).toISOString().slice(0, 10)
}

/** `Tue 24 to Wed 25 Nov`: a night runs from noon to noon and is named by its evening. */
export function nightName(night: string): string {
  const [evening, morning] = [dayName(night), dayName(nightAfter(night, 1))]
  const sameMonth = evening.slice(-3) === morning.slice(-3)
  return `${sameMonth ? evening.slice(0, -4) : evening} to ${morning}`
}

/** The night a wall-clock time belongs to: before noon it is still the night of the evening before. */
export function nightAt(time: string): string {
  return time.slice(11, 13) < '12' ? nightAfter(dateOf(time), -1) : dateOf(time)
}

/** The night a person means who looks at `time`: until 18:00 the one that ended or is ending, then the one begun. */
export function nightMeant(time: string): string {
  return time.slice(11, 13) < '18' ? nightAfter(dateOf(time), -1) : dateOf(time)
}
