/** The columns of the week's CSV: their names stay as they are, and each has its unit in a second file. */
import type {
  ComparedAnswer,
  IntervalAnswer,
  PressureAnswer,
  PressurePoint,
  PressureRow,
} from '../http/pressure-shapes.ts'

export interface ReportLine {
  readonly report: PressureAnswer
  readonly point: PressurePoint
  readonly row: PressureRow
}

export interface Column {
  readonly name: string
  readonly unit: string
  readonly says: string
  readonly of: (line: ReportLine) => string | number | null
}

const column = (name: string, unit: string, says: string, of: Column['of']): Column => ({
  name,
  unit,
  says,
  of,
})

function intervalColumns(
  name: string,
  { unit, says }: { readonly unit: string; readonly says: string },
  of: (row: PressureRow) => IntervalAnswer | null,
): Column[] {
  return [
    column(name, unit, says, ({ row }) => of(row)?.rate ?? null),
    column(`${name}_low`, unit, `${says}: low end`, ({ row }) => of(row)?.low ?? null),
    column(`${name}_high`, unit, `${says}: high end`, ({ row }) => of(row)?.high ?? null),
  ]
}

function comparedColumns(name: string, spell: string, of: (row: PressureRow) => ComparedAnswer): Column[] {
  return [
    column(`${name}_visits`, 'visits', `visits in ${spell}`, ({ row }) => of(row).visits),
    column(
      `${name}_watched_nights`,
      'nights',
      `nights watched in ${spell}`,
      ({ row }) => of(row).watchedNights,
    ),
    column(
      `${name}_verdict`,
      'words',
      `what the week amounts to beside ${spell}`,
      ({ row }) => of(row).verdict,
    ),
    column(
      `${name}_ratio`,
      'times',
      `rate of visits over that of ${spell}; empty: none then`,
      ({ row }) => of(row).ratio,
    ),
    column(`${name}_ratio_low`, 'times', 'low end, 95 %', ({ row }) => of(row).low),
    column(`${name}_ratio_high`, 'times', 'high end, 95 %; empty: no limit', ({ row }) => of(row).high),
    column(
      `${name}_p`,
      '0 to 1',
      'chance of a change this large or larger where nothing changed, twice the smaller tail',
      ({ row }) => of(row).p,
    ),
    column(
      `${name}_p_corrected`,
      '0 to 1',
      'the same corrected for the number of points; empty: not compared',
      ({ row }) => of(row).correctedP,
    ),
  ]
}

export const REPORT_COLUMNS: readonly Column[] = [
  column('week', 'ISO week', 'begins at noon on its Monday', ({ report }) => report.week),
  column('from_night', 'date', 'first night, by its evening', ({ report }) => report.from),
  column('to_night', 'date', 'last night, by its evening', ({ report }) => report.to),
  column('point', 'name', 'water point', ({ point }) => point.name),
  column('latitude', 'degrees', 'WGS 84', ({ point }) => point.lat),
  column('longitude', 'degrees', 'WGS 84', ({ point }) => point.lon),
  column('species', 'name', 'kind of animal', ({ row }) => row.species),
  column(
    'watched_nights',
    'nights',
    'nights watched, in parts; 0: not watched, and nobody can say whether any came',
    ({ point }) => point.watchedNights,
  ),
  column('visits', 'visits', 'visits in watched nights', ({ row }) => row.visits),
  column(
    'visits_not_watched',
    'visits',
    'visits in nights that were not watched: in no rate',
    ({ row }) => row.visitsNotWatched,
  ),
  column(
    'largest_group',
    'head',
    'largest count in one photo: the least number that was there',
    ({ row }) => row.largest,
  ),
  column(
    'animal_visits',
    'animal-visits',
    'sum of the largest counts of the visits; one animal may be in it many times',
    ({ row }) => row.animalVisits,
  ),
  column('first_seen', 'ISO 8601', 'beginning of the first visit, station time', ({ row }) => row.firstAt),
  column('last_seen', 'ISO 8601', 'end of the last visit, station time', ({ row }) => row.lastAt),
  ...intervalColumns(
    'visit_rate',
    { unit: 'visits per 100 watched nights', says: 'rate of visits with its 95 % limits' },
    (row) => row.visitRate,
  ),
  ...intervalColumns(
    'animal_rate',
    { unit: 'animal-visits per watched night', says: 'rate of animal-visits with its 95 % limits' },
    (row) => row.animalRate,
  ),
  column(
    'visit_rate_ranking',
    'visits per 100 watched nights',
    'rate of visits drawn towards the station’s, for ranking only',
    ({ row }) => row.ranked?.rate ?? null,
  ),
  column('place', 'rank', 'place by that rate', ({ row }) => row.ranked?.place ?? null),
  ...intervalColumns(
    'litres_a_day',
    { unit: 'litres a day', says: 'water drunk, by the station’s ratings' },
    (row) => row.load?.litresADay ?? null,
  ),
  ...intervalColumns(
    'dry_sheep_equivalents',
    { unit: 'DSE', says: 'feed eaten, by the station’s ratings' },
    (row) => row.load?.drySheepEquivalents ?? null,
  ),
  ...comparedColumns('last_week', 'the week before', (row) => row.lastWeek),
  ...comparedColumns('four_weeks', 'the four weeks before', (row) => row.fourWeeks),
  column(
    'photos_to_check',
    'photos',
    'flagged photos of the point in the week, of any species, that nobody has looked at',
    ({ point }) => point.toCheck,
  ),
]
