/** Words of the sheets that are printed for the yard, for neighbours and for the truck. */
import type { YardFormAnswer } from '../../services/http/yard-shapes.ts'
import type { Species } from '../../services/words.ts'
import { speciesMany } from './counts.ts'
import { dayName } from './times.ts'

export const sheetWords = {
  links: 'Sheets to print',
  print: 'Print',
  program: 'Program',
  noProgram: 'none: lines to fill in',
  back: 'At the yard',
  yard: {
    link: 'Yard sheet',
    title: 'Daily yard sheet',
    of: (station: string, day: string) => `${station}, ${day}`,
    asEntered: (time: string) => `As entered by ${time}. What was not entered is not here.`,
    point: 'Point',
    visits: 'Visits',
    state: (state: string) => `trap ${state}`,
    last: (time: string, who: string) => `last ${time}, ${who}`,
    due: (time: string) => `visit by ${time}`,
    held: 'Held',
    time: 'Time there',
    headNow: 'Head inside',
    cared: 'Water, shade, feed',
    taken: 'Taken, how',
    who: 'Who',
    remarks: 'Weather, anything injured, young without mothers, stock or wildlife let go:',
    noTraps: 'No trap is set and nothing is held, as far as it was entered.',
    late: 'not visited in time',
  },
  notice: {
    link: 'Notice to neighbours',
    title: 'Notice to neighbours',
    lead: (station: string, species: Species | null) =>
      `${station} is going to reduce ${species === null ? 'feral animals' : `feral ${speciesMany(species)}`} at its waters.`,
    when: 'When',
    where: 'Where',
    how: 'How',
    contact: 'Whom to call',
    contactHint: 'Name and number. Printed as it stands; left empty, a line to fill in.',
    more: 'Anything else',
    ask: 'Please tell us before these days if animals of yours, tagged, branded or collared ones too, may come to these waters, or if you have any concern.',
    stay: 'Please stay clear of these waters on these days. Do not open or shut a gate of a trap: call us.',
    dates: 'The days may change with weather and roads. Ask before you rely on them.',
  },
  take: {
    link: 'What to take',
    title: 'What to take',
    practice:
      'Common practice, no source. Change the lines: what the place, the season, the codes and the people on the job ask for goes before this list.',
    head: 'Head to be ready for',
    headHint: 'The high end at the busiest point of the list. Change it as you know better.',
    line: (number: number) => `Line ${number}`,
    remove: (line: string) => `Leave out: ${line}`,
    add: 'One line more',
    again: 'Back to the usual lines',
    for: (station: string, program: string | null) => (program === null ? station : `${station}, ${program}`),
  },
} as const

type Program = YardFormAnswer['programs'][number]

/** `Fri 20 Nov to Tue 24 Nov 2026`: from the first evening to the morning after the last. */
export function programDays({ fromNight, toNight }: Pick<Program, 'fromNight' | 'toNight'>): string {
  const morning = new Date(Date.parse(`${toNight}T00:00:00Z`) + 86_400_000).toISOString().slice(0, 10)
  return `From the evening of ${dayName(fromNight)} to the morning of ${dayName(morning)} ${morning.slice(0, 4)}`
}
