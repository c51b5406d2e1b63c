/** Words of programs and their target lists: on screens, on the sheet and in what maps and calendars are given. */
import type { Program, ProgramHistory, TargetListAnswer } from '../../services/http/program-shapes.ts'
import { list, plural, speciesMany } from './counts.ts'
import { dayAndClock, dayName } from './times.ts'

/** `Tue 24 Nov to Sat 28 Nov` */
export function windowWords({ fromNight, toNight }: Pick<Program, 'fromNight' | 'toNight'>): string {
  if (fromNight === toNight) return `the night of ${dayName(fromNight)}`
  return `nights of ${dayName(fromNight)} to ${dayName(toNight)} ${toNight.slice(0, 4)}`
}

/** `Camels, trap yard, nights of Tue 24 Nov to Sat 28 Nov 2026` */
export function programLine(program: Pick<Program, 'species' | 'method' | 'fromNight' | 'toNight'>): string {
  const many = speciesMany(program.species)
  return `${many.slice(0, 1).toUpperCase()}${many.slice(1)}, ${program.method}, ${windowWords(program)}`
}

/** What the list rests on, in a sentence. */
export function restsOn({
  nights,
  keptAt,
  program,
}: Pick<TargetListAnswer, 'nights' | 'keptAt' | 'program'>): string {
  const span = `the nights of ${dayName(nights.from)} to ${dayName(nights.to)}`
  if (keptAt !== null) return `As it was kept on ${dayAndClock(keptAt)}. It rests on ${span}.`
  return program.state === 'planned'
    ? `It rests on ${span} and follows the cameras until the program begins.`
    : `It rests on ${span}, before the program began.`
}

export const stateWords = (program: Program): string => {
  const { state, overSince } = program
  if (overSince === null) return programWords.states[state]
  return `${programWords.states[state]} ${dayName(overSince)} ${overSince.slice(0, 4)}`
}

/** `Tue 24 Nov, 21:40, Ash: plan changed (Camels north, trap yard, nights of ...)` */
export function wordLine(said: ProgramHistory['words'][number]): string {
  const note = said.note === null ? '' : `; ${said.note}`
  return `${dayAndClock(said.at)}, ${said.who}: ${programWords.wordWords[said.word]} (${said.name}, ${said.method}, ${windowWords(said)}${note})`
}

export const listTitle = ({ name }: Pick<Program, 'name'>) => `Target list: ${name}`

export const summaryOf = (points: readonly string[]): string =>
  points.length === 0
    ? 'no points on its list'
    : points.length > 4
      ? plural(points.length, 'point')
      : list(points)

export const programWords = {
  title: 'Programs',
  make: 'New program',
  lead: 'A program is one species, some nights and a way of doing it. Its target list says where to expect how many and when, from your own photos.',
  none: {
    what: 'No programs yet.',
    remedy:
      'Make one: choose the species, the nights and how it is to be done. Its list of points is worked out from the last four weeks of photos, and you change it by hand.',
  },
  over: 'Finished and dropped',
  states: {
    planned: 'planned',
    'going on': 'going on',
    'nights are over': 'its nights are over',
    finished: 'finished',
    dropped: 'dropped',
  },
  fields: {
    name: 'Name',
    nameHint: (usual: string) => `Left empty: ${usual}.`,
    nightsHint: 'A night runs from noon to noon and is named by its evening.',
    whoHint: 'Stands beside what you say, and is remembered on this device.',
    species: 'Species',
    method: 'How it is done',
    methodHint: 'Trap yard, muster, aerial, ground, or your own word for it.',
    fromNight: 'First night',
    toNight: 'Last night',
    note: 'Note',
    who: 'Your name',
  },
  methods: ['trap yard', 'muster', 'aerial', 'ground'],
  save: 'Make the program',
  saveChange: 'Save',
  change: 'Change the plan',
  finish: 'Finished',
  finishWarns: 'The list stays as it is now, and nothing more is changed on it. You can take it up again.',
  finishYes: 'Yes, it is finished',
  drop: 'Drop it',
  dropWarns: 'The program is not done. Everything that was said of it stays, and you can take it up again.',
  dropYes: 'Yes, drop it',
  takeUp: 'Take it up again',
  back: 'Programs',
  program: 'Program',
  sections: 'Parts of the program',
  planHead: 'The plan: change it, finish it, drop it',
  planHeadOver: 'The plan: take it up again, or read what was said',
  parts: { list: 'Target list', outcomes: 'Outcomes', worked: 'Did it work' },
  history: 'What was said of this program',
  wordWords: {
    made: 'made',
    changed: 'plan changed',
    finished: 'finished',
    dropped: 'dropped',
    'taken up again': 'taken up again',
  },
  noLines: {
    what: 'No point is on this list.',
    remedy:
      'The species was not seen at any water in the nights that the list rests on. Add points by hand below.',
  },
  byHand: 'by hand',
  also: 'Also there',
  bring: 'To bring',
  gettingThere: 'Getting there',
  noAccess: 'nothing said yet',
  note: 'Note',
  saveNote: 'Save note',
  noteAt: (name: string) => `Note at ${name}`,
  up: (name: string) => `${name}: earlier`,
  down: (name: string) => `${name}: later`,
  takeOff: (name: string) => `Take ${name} off the list`,
  takeOffShort: 'Take off',
  add: 'Add a point',
  addThis: 'Add',
  addHint: (seen: number, watched: number) =>
    watched === 0
      ? 'not watched'
      : seen === 0
        ? `not seen in ${plural(watched, 'night')}`
        : `seen on ${plural(seen, 'night')}`,
  keepOrder: 'Keep this order',
  undoOrder: 'Put back',
  keptEdit: 'Kept as a new version.',
  movedTo: (name: string, place: number, of: number) => `${name} is now ${place} of ${of}.`,
  accessAt: (name: string) => `Getting to ${name}`,
  noPhoto: 'No photo of them here.',
  latestPhoto: (name: string) => `Latest photo of them at ${name}`,
  somePoint: (id: number) => `point ${id}`,
  restedOn: (from: string, to: string) => `It rested on the nights of ${from} to ${to}.`,
  orderChanged: 'The order is changed and not kept yet.',
  moveHint: 'Move a point with its arrows, or with Alt and the up and down keys.',
  round: 'The round',
  inThisOrder: 'In this order, from the homestead and back:',
  shorter: (shortest: boolean) =>
    shortest ? 'The shortest round over the same points:' : 'A shorter round over the same points:',
  useShorter: 'Put the list in that order',
  isShortest: 'No shorter round over these points is known.',
  driving: (kmAnHour: number, minutes: number, own: boolean) =>
    `At ${kmAnHour} km/h and ${minutes} min a point${own ? '' : ' (common practice, no source)'}.`,
  drivingLink: 'Set your own speed and distances',
  outputs: {
    print: 'Print',
    share: 'Share',
    gpx: 'GPX',
    kml: 'KML',
    geojson: 'GeoJSON',
    csv: 'CSV',
    ics: 'Calendar',
  },
  filesHint: 'GPX for a handheld, KML and GeoJSON for maps, CSV for a spreadsheet, the days for a calendar.',
  versions: 'Earlier versions of the list',
  version: (version: number) => `Version ${version}`,
  cantKnow:
    'What this list can’t know: animals that hid each other or came between photos, waters without a camera, and what rain, work at the point or shooting changes from one night to the next. One night of the week is not told from another: a few visits can’t say.',
  average: 'Head a night is an average over all nights; on a night when they come there are more.',
  expect: 'Expect',
  when: 'When',
  waiting: (photos: number) =>
    `${plural(photos, 'photo')} of these nights still being read: the list may change.`,
} as const
