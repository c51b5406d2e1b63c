/** Words of programs and their target lists: on screens, on the sheet and in what maps and calendars are given. */
import type {
  Program,
  ProgramHistory,
  ShareLink,
  TargetLine,
  TargetListAnswer,
} from '../../services/http/program-shapes.ts'
import { list, plural, speciesMany } from './counts.ts'
import { clockOfHours } from './hours.ts'
import { age, dayAndClock, dayName } from './times.ts'

type Round = TargetListAnswer['round']

/** `2.4`, `17`: more digits would say more than is known. */
export const told = (value: number): string =>
  value < 10 ? Number(value.toFixed(1)).toString() : value.toFixed(0)

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

/** `2 to 7 head a night (about 4)`; of none that were seen, how many may still come. */
export function headWords({
  head: expected,
  largestGroup,
}: Pick<TargetLine, 'head' | 'largestGroup'>): string {
  if (expected === null) return 'not watched: nobody can say'
  const { low, rate, high } = expected
  if (largestGroup === 0) return `none seen: up to ${told(high)} head a night may still come`
  if (rate < LEAST_TOLD) return `up to ${told(high)} head a night`
  return `${told(low)} to ${told(high)} head a night (about ${told(rate)})`
}

/** Less is no number to plan with. */
const LEAST_TOLD = 0.1

/** `largest group 6`, or that none was seen. */
export function groupWords({ largestGroup }: Pick<TargetLine, 'largestGroup'>): string {
  return largestGroup === 0 ? 'no group seen' : `largest group seen ${largestGroup}`
}

/** `came on 9 of 28 watched nights` */
export function nightsWords({
  nightsSeen,
  nightsWatched,
}: Pick<TargetLine, 'nightsSeen' | 'nightsWatched'>): string {
  return nightsWatched === 0
    ? 'no night was watched'
    : `came on ${nightsSeen} of ${plural(nightsWatched, 'watched night')}`
}

/** `latest 26, 25 and 20 Nov, 28 Oct` */
export function lastNightsWords({ lastNights }: Pick<TargetLine, 'lastNights'>): string | null {
  if (lastNights.length === 0) return null
  const words = lastNights.map((night, i) => {
    const [, day, month] = dayName(night).split(' ')
    const next = lastNights[i + 1]
    return next?.slice(0, 7) === night.slice(0, 7) ? day : `${day} ${month}`
  })
  return `latest ${words.join(', ')}`
}

/** `half of their visits 20:30 to 01:30` */
export function hoursWords({ bestHours }: Pick<TargetLine, 'bestHours'>): string {
  if (bestHours === null) return 'too few visits to tell their hours'
  return `best hours ${clockOfHours(bestHours.from)} to ${clockOfHours(bestHours.to)} (half of their visits)`
}

export function lastSeenWords({ lastSeenAt }: Pick<TargetLine, 'lastSeenAt'>, now: string): string {
  return lastSeenAt === null
    ? 'never seen here'
    : `last seen ${dayAndClock(lastSeenAt)} (${age(lastSeenAt, now)})`
}

/** `cattle on 24 nights (up to 14), donkeys on 3 (up to 2)`; null: nothing else. */
export function othersWords({ others }: Pick<TargetLine, 'others'>): string | null {
  if (others.length === 0) return null
  return others
    .map(
      ({ species, nights, largest }) =>
        `${speciesMany(species)} on ${plural(nights, 'night')} (up to ${largest})`,
    )
    .join(', ')
}

/** `water for 9 head: 540 L a day` with what else a held animal wants. */
export function bringWords({ bring, hasYard }: Pick<TargetLine, 'bring' | 'hasYard'>): string | null {
  if (bring === null) return null
  const yard = hasYard ? 'yard there' : 'no yard there: panels and gates'
  return `${yard}; for up to ${bring.head} head held: ${bring.litresADay.toLocaleString('en-AU')} L of water a day, shade, feed`
}

/** `by hand`, or its place in the ranking where the list's order is another. */
export function rankWords({ ranked, byHand }: Pick<TargetLine, 'ranked' | 'byHand'>): string {
  if (ranked === null) return programWords.byHand
  return `${byHand ? `${programWords.byHand}, ` : ''}number ${ranked} by head`
}

/** How a link stands. */
export function linkWords({ endsAt, ended }: ShareLink): string {
  const { links } = programWords
  if (ended === null) return links.until(endsAt)
  return (ended.byHand ? links.endedByHand : links.endedBySelf)(ended.at)
}

/** How the point is reached, each with its word; empty where nobody has said anything. */
export function accessWords({ access, rainAt }: Pick<TargetLine, 'access' | 'rainAt'>): string[] {
  const { fields } = programWords.access
  const said =
    access === null
      ? []
      : (['road', 'gates', 'wetSeason', 'turnaround'] as const).flatMap((field) =>
          access[field] === null ? [] : [`${fields[field]}: ${access[field]}`],
        )
  return rainAt === null ? said : [...said, `Rain here ${dayName(rainAt)}: the track may be soft`]
}

/** `118 km, about 6 h 30 min` */
export function roundWords({ km, hours }: Pick<Round, 'km' | 'hours'>): string {
  return `${Math.round(km)} km, about ${hoursLong(hours)}`
}

export function hoursLong(hours: number): string {
  const minutes = Math.round((hours * 60) / 5) * 5
  const [whole, rest] = [Math.floor(minutes / 60), minutes % 60]
  return [whole > 0 ? `${whole} h` : '', rest > 0 ? `${rest} min` : ''].filter(Boolean).join(' ') || '0 min'
}

/** What is straight in a round, in words; null where the owner has given every leg. */
export function straightWords({ legs }: Pick<Round, 'legs'>): string | null {
  const straight = legs.filter((leg) => leg.straight).length
  if (straight === 0) return null
  return straight === legs.length
    ? 'As the crow flies: tracks are longer.'
    : `${straight} of ${plural(legs.length, 'leg')} as the crow flies: tracks are longer.`
}

/** Kilometres to each point of the list from the place before it. */
export function legWords(round: Round, place: number): string {
  const leg = round.legs[place]
  if (leg === undefined) return ''
  return `${told(leg.km)} km${leg.straight ? ' straight' : ''} from ${place === 0 ? 'the homestead' : 'the point before'}`
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

/** What a change of the list was. */
export function editWords(
  edit: { readonly kind: string; readonly pointId?: number; readonly text?: string } | null,
  nameOf: (pointId: number) => string,
): string {
  if (edit === null) return 'Kept as it stood'
  const name = nameOf(edit.pointId ?? 0)
  if (edit.kind === 'add') return `${name} put on the list`
  if (edit.kind === 'drop') return `${name} taken off`
  if (edit.kind === 'note')
    return edit.text === '' ? `Note at ${name} taken away` : `Note at ${name}: ${edit.text}`
  return 'Put in another order'
}

/** `Camels expected at Kite Bore`, as a heading of the sheet and the exports. */
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
  links: {
    title: 'Links to this list',
    lead: 'Whoever has the link sees the list and the safety words, without an account and nothing else, until it ends.',
    forWhom: 'For whom',
    days: 'Ends after',
    daysChoices: [1, 3, 7, 14, 28, 56] as const,
    daysWords: (days: number) => (days < 7 ? plural(days, 'day') : plural(days / 7, 'week')),
    make: 'Make a link',
    made: 'Copy it now: it is shown this once.',
    copy: 'Copy',
    copied: 'Copied.',
    send: 'Send',
    none: 'No link has been made.',
    until: (time: string) => `open until ${dayAndClock(time)}`,
    endedBySelf: (time: string) => `ended ${dayAndClock(time)}`,
    endedByHand: (time: string) => `ended by hand ${dayAndClock(time)}`,
    anyone: 'For nobody in particular',
    end: 'End it now',
    endWarns:
      'Whoever has it can no longer open the list. It can’t be opened again; you can make a new link.',
    endYes: 'Yes, end it',
    onlyHere:
      'This service answers on this machine only, so the link opens on this machine only. To share it, open the service to your network first; the README says how, and what that risks.',
  },
  cantKnow:
    'What this list can’t know: animals that hid each other or came between photos, waters without a camera, and what rain, work at the point or shooting changes from one night to the next. One night of the week is not told from another: a few visits can’t say.',
  average: 'Head a night is an average over all nights; on a night when they come there are more.',
  expect: 'Expect',
  when: 'When',
  waiting: (photos: number) =>
    `${plural(photos, 'photo')} of these nights still being read: the list may change.`,
  access: {
    title: 'Getting there',
    hint: 'Stands on every target list and stays with the point.',
    fields: {
      road: 'Road',
      gates: 'Gates',
      wetSeason: 'In the wet',
      turnaround: 'Truck turnaround',
    },
    hints: {
      road: 'Sealed, graded, sandy, washouts',
      gates: 'Which are locked, and who has the key',
      wetSeason: 'When it is cut off, and for how long',
      turnaround: 'Room for which truck, and where',
    },
    save: 'Save',
    old: (time: string, who: string) => `Said ${dayName(time)} ${time.slice(0, 4)} by ${who}.`,
  },
  tracks: {
    title: 'Speed and distances',
    lead: 'Kilometres and hours of a round are worked out from these. Where you give a distance it goes before the map.',
    speed: 'Speed on tracks, km/h',
    minutes: 'Minutes at each point',
    usual: 'Common practice, no source; set your own.',
    from: 'From',
    to: 'To',
    km: 'Kilometres',
    homestead: 'Homestead',
    add: 'Save this distance',
    file: 'Distances from a file',
    fileHint: 'CSV with a header line: from, to, km. Places by their names; "homestead" for the homestead.',
    none: 'No distances given yet: every leg is as the crow flies.',
    takeBack: (from: string, to: string) => `Take back the distance ${from} to ${to}`,
    takeBackShort: 'Take back',
    loaded: (count: number) => `Loaded: ${plural(count, 'distance')} are given now.`,
    one: 'One distance',
    saveSpeed: 'Save speed',
    distance: (from: string, to: string, km: number) => `${from} to ${to}: ${Number(km.toFixed(1))} km`,
    showAll: (count: number) => `Show all ${count} distances`,
    fileButton: 'Choose a file',
  },
} as const

/** `Camel: 2 to 7 head a night` for a map's pin. */
export function pinWords(line: TargetLine, now: string): string {
  return [
    `${headWords(line)}; ${groupWords(line)}`,
    `${nightsWords(line)}; ${hoursWords(line)}`,
    lastSeenWords(line, now),
    ...(bringWords(line) === null ? [] : [`${programWords.bring}: ${bringWords(line)}`]),
    ...(othersWords(line) === null ? [] : [`${programWords.also}: ${othersWords(line)}`]),
    ...accessWords(line),
    ...(line.note === null ? [] : [`${programWords.note}: ${line.note}`]),
  ].join('\n')
}

export const sharedWords = {
  title: 'Target list',
  none: 'There is no list at this address.',
  ended: (time: string, byHand: boolean) => `This link ended ${byHand ? 'by hand ' : ''}on ${time}.`,
  remedy: 'Ask whoever sent it to you for a new one.',
} as const
