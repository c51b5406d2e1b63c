/** A target list for other programs to read: maps (GPX 1.1, KML 2.2, GeoJSON), spreadsheets (CSV), calendars (iCalendar). */
import { clockOfHours } from '../../web/text/hours.ts'
import { listTitle, programLine } from '../../web/text/programs.ts'
import { licensedPeople, localCodes } from '../../web/text/safety.ts'
import { headWords, pinWords } from '../../web/text/target-list.ts'
import type { Place } from '../planning/distance.ts'
import { type CsvField, csvOf } from '../planning/exports/csv.ts'
import { geoJsonOf } from '../planning/exports/geojson.ts'
import { gpxOf } from '../planning/exports/gpx.ts'
import { iCalendarOf } from '../planning/exports/icalendar.ts'
import { kmlOf } from '../planning/exports/kml.ts'
import type { MapPlace, MapThings } from '../planning/exports/map-things.ts'
import { parseInstant } from '../station-time.ts'
import type { NightDate } from '../words.ts'
import type { TargetLine, TargetListAnswer } from './program-shapes.ts'

export const LIST_FORMATS = ['gpx', 'kml', 'geojson', 'csv', 'ics'] as const
export type ListFormat = (typeof LIST_FORMATS)[number]

const TYPES: Readonly<Record<ListFormat, string>> = {
  gpx: 'application/gpx+xml; charset=utf-8',
  kml: 'application/vnd.google-earth.kml+xml; charset=utf-8',
  geojson: 'application/geo+json; charset=utf-8',
  csv: 'text/csv; charset=utf-8; header=present',
  ics: 'text/calendar; charset=utf-8',
}

export interface ListFile {
  readonly type: string
  readonly name: string
  readonly text: string
}

export function listFile(format: ListFormat, list: TargetListAnswer, homestead: Place): ListFile {
  return {
    type: TYPES[format],
    name: `target-list-${list.program.id}.${format}`,
    text: WRITERS[format](list, homestead),
  }
}

const WRITERS: Readonly<Record<ListFormat, (list: TargetListAnswer, homestead: Place) => string>> = {
  gpx: (list, homestead) => gpxOf(thingsOf(list, homestead)),
  kml: (list, homestead) => kmlOf(thingsOf(list, homestead)),
  geojson: (list, homestead) => `${JSON.stringify(geoJsonOf(thingsOf(list, homestead)))}\n`,
  csv: csvOfList,
  ics: calendarOf,
}

/** The points as pins in the order of the list, and the round from the homestead and back as a line. */
function thingsOf(list: TargetListAnswer, homestead: Place): MapThings {
  const places = list.lines.map(
    (line, i): MapPlace => ({
      name: `${i + 1} ${line.name}`,
      text: pinWords(line, list.now),
      lat: line.lat,
      lon: line.lon,
    }),
  )
  const home: MapPlace = { ...homestead, name: 'Homestead', text: null }
  const stops = places.map((place) => ({ ...place, text: null }))
  return {
    name: listTitle(list.program),
    madeAt: parseInstant(list.now),
    places,
    round:
      places.length === 0 ? null : { name: `${list.program.name}: round`, places: [home, ...stops, home] },
    areas: [],
  }
}

const COLUMNS = [
  ...['order', 'point', 'kind', 'lat', 'lon', 'yard'],
  ...[
    'head_a_night_low',
    'head_a_night',
    'head_a_night_high',
    'nights_seen',
    'nights_watched',
    'largest_group',
  ],
  ...['last_seen', 'latest_nights', 'best_hours_from', 'best_hours_to'],
  ...['km_from_before', 'km_is_straight', 'also_there', 'water_litres_a_day'],
  ...['road', 'gates', 'wet_season', 'truck_turnaround', 'rain', 'note', 'ranked', 'by_hand'],
]

function csvOfList(list: TargetListAnswer): string {
  return csvOf(
    COLUMNS,
    list.lines.map((line, i) => recordOf(line, i, list)),
  )
}

const yesNo = (value: boolean) => (value ? 'yes' : 'no')

function recordOf(line: TargetLine, i: number, { round }: TargetListAnswer): CsvField[] {
  const { head, bestHours, access } = line
  const leg = round.legs[i]
  return [
    ...[i + 1, line.name, line.kind, line.lat, line.lon, yesNo(line.hasYard)],
    ...[head?.low ?? null, head?.rate ?? null, head?.high ?? null],
    ...[line.nightsSeen, line.nightsWatched, line.largestGroup, line.lastSeenAt, line.lastNights.join(' ')],
    ...[bestHours && clockOfHours(bestHours.from), bestHours && clockOfHours(bestHours.to)],
    ...[leg?.km ?? null, leg === undefined ? null : yesNo(leg.straight)],
    line.others
      .map(({ species, nights, largest }) => `${species}: ${nights} nights, up to ${largest}`)
      .join('; '),
    line.bring?.litresADay ?? null,
    ...[access?.road ?? null, access?.gates ?? null, access?.wetSeason ?? null, access?.turnaround ?? null],
    ...[line.rainAt, line.note, line.ranked, yesNo(line.byHand)],
  ]
}

/** The program's days, evening of the first night to morning after the last, as one event with its points in it. */
function calendarOf(list: TargetListAnswer): string {
  const { program, lines, station } = list
  return iCalendarOf(
    [
      {
        // The same for every export of the program, so that a calendar changes its event and adds no second.
        uid: `program-${program.id}-${program.madeAt.replace(/\D/g, '')}@hooftally`,
        when: { kind: 'days', from: program.fromNight as NightDate, to: dayAfter(program.toNight) },
        summary: `${program.name}: ${programLine(program)}`,
        text: [
          ...lines.map((line, i) => `${i + 1} ${line.name}: ${headWords(line)}`),
          ...(program.note === null ? [] : [program.note]),
          localCodes,
          licensedPeople,
        ].join('\n'),
        where: [station, ...lines.map(({ name }) => name)].join(', '),
        place: null,
      },
    ],
    { name: listTitle(program), madeAt: parseInstant(list.now) },
  )
}

const DAY_MS = 86_400_000
/** The last night ends on the day after its evening. */
const dayAfter = (night: string) =>
  new Date(Date.parse(`${night}T00:00:00Z`) + DAY_MS).toISOString().slice(0, 10) as NightDate
