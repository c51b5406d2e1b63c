/** Programs, what was said of them, links to them and how points are reached, from rows to the API's shapes. */
import { programState } from '../planning/program-state.ts'
import { toStationTime } from '../station-time.ts'
import type { AccessNoteRow } from '../store/access-notes.ts'
import type { Ledger } from '../store/open.ts'
import { fieldsOf, findProgram, type ProgramRow, programWords } from '../store/programs.ts'
import { readSettings } from '../store/settings.ts'
import { linkEnded, type ShareLinkRow } from '../store/share-links.ts'
import { nightOf } from '../tally/nights.ts'
import type { Instant, Zone } from '../words.ts'
import { stationTime } from './answers.ts'
import type { Access, Program, ProgramHistory, ShareLink } from './program-shapes.ts'

export interface Clock {
  readonly zone: Zone
  readonly now: Instant
}

export function programOf(row: ProgramRow, { zone, now }: Clock): Program {
  const over = row.finished_at ?? row.dropped_at
  return {
    id: row.id,
    ...fieldsOf(row),
    madeAt: stationTime(row.made_at, zone),
    who: row.who,
    state: programState(
      {
        fromNight: row.from_night,
        toNight: row.to_night,
        finished: row.finished_at !== null,
        dropped: row.dropped_at !== null,
      },
      nightOf(now, zone),
    ),
    overSince: over && stationTime(over, zone),
  }
}

export async function programHistoryOf(ledger: Ledger, id: number, now: Instant): Promise<ProgramHistory> {
  const [{ zone }, row, words] = await Promise.all([
    readSettings(ledger),
    findProgram(ledger, id),
    programWords(ledger, id),
  ])
  return {
    program: programOf(row, { zone, now }),
    words: words.map(({ at, who, word, said }) => ({
      at: stationTime(at, zone),
      who,
      word,
      name: said.name,
      method: said.method,
      fromNight: said.fromNight,
      toNight: said.toNight,
      note: said.note,
    })),
  }
}

export const accessOf = (row: AccessNoteRow, zone: Zone): Access => ({
  pointId: row.point_id,
  road: row.road,
  gates: row.gates,
  wetSeason: row.wet_season,
  turnaround: row.turnaround,
  at: stationTime(row.at, zone),
  who: row.who,
})

export function shareLinkOf(row: ShareLinkRow, { zone, now }: Clock): ShareLink {
  const ended = linkEnded(row, now)
  return {
    id: row.id,
    forWhom: row.for_whom,
    madeAt: stationTime(row.made_at, zone),
    who: row.who,
    endsAt: stationTime(row.ends_at, zone),
    ended: ended && { at: toStationTime(ended.at, zone), byHand: ended.byHand },
  }
}
