/** What was expected of a program, as it was kept when it began: nobody can expect it afterwards. */
import { toStationTime } from '../station-time.ts'
import { toInstant } from '../store/instants.ts'
import type { TargetListVersionRow } from '../store/kept-lists.ts'
import type { ProgramRow } from '../store/programs.ts'
import { nightSpell } from '../tally/nights.ts'
import type { Zone } from '../words.ts'
import type { DidItWorkAnswer } from './did-it-work-shapes.ts'
import { rounded } from './rounded.ts'

/** The last list kept before the program's first night, else the first that was kept at all. */
export function expectedOf(
  lists: readonly TargetListVersionRow[],
  {
    program,
    names,
    zone,
  }: { readonly program: ProgramRow; readonly names: ReadonlyMap<number, string>; readonly zone: Zone },
): DidItWorkAnswer['expected'] {
  const begins = nightSpell(program.from_night, zone).from
  const inTime = lists.filter(({ at }) => toInstant(at) <= begins).at(-1)
  const kept = inTime ?? lists[0]
  if (kept === undefined) return null
  return {
    version: kept.version,
    at: toStationTime(toInstant(kept.at), zone),
    late: inTime === undefined,
    nights: kept.list.nights,
    points: kept.list.lines.map(({ pointId, expected }) => ({
      pointId,
      name: names.get(pointId) ?? String(pointId),
      head: expected.head && {
        low: rounded(expected.head.low),
        rate: rounded(expected.head.rate),
        high: rounded(expected.head.high),
      },
      largestGroup: expected.largestGroup,
    })),
  }
}
