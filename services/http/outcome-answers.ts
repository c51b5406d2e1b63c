/** From the logs of yards to the API's shapes, and to CSV. */
import { csvOf } from '../planning/exports/csv.ts'
import { parseInstant, toStationTime } from '../station-time.ts'
import type { OutcomeEntry } from '../store/outcome-entries.ts'
import type { TakenBackBy } from '../store/said-once.ts'
import type { TrapEntry } from '../store/trap-entries.ts'
import { FATES } from '../tally/fates.ts'
import { SPECIES, type Zone } from '../words.ts'
import { stationTime } from './answers.ts'
import type { OutcomeAnswer, OutcomesAnswer, TrapEntryAnswer } from './yard-shapes.ts'

function takenBackOf(back: TakenBackBy | null, zone: Zone): OutcomeAnswer['takenBack'] {
  if (back === null) return null
  const { id, who, at, note, corrected } = back
  return { by: id, who, at: toStationTime(parseInstant(at), zone), note, corrected }
}

export function outcomesAnswerOf(entries: readonly OutcomeEntry[], zone: Zone): OutcomesAnswer {
  const standing = entries.filter(({ back }) => back === null)
  return {
    outcomes: entries.map(({ saidAt, back, ...entry }) => ({
      ...entry,
      saidAt: stationTime(saidAt, zone),
      takenBack: takenBackOf(back, zone),
    })),
    sums: SPECIES.flatMap((species) =>
      FATES.flatMap((fate) => {
        const head = standing
          .filter((one) => one.species === species && one.fate === fate)
          .reduce((sum, one) => sum + one.head, 0)
        return head === 0 ? [] : [{ species, fate, head }]
      }),
    ),
  }
}

export function trapEntryOf(entry: TrapEntry, zone: Zone): TrapEntryAnswer {
  return {
    id: entry.id,
    kind: entry.kind,
    pointId: entry.point_id,
    pointName: entry.point_name,
    at: stationTime(entry.at, zone),
    held: entry.held,
    heldSince: entry.held_since && stationTime(entry.held_since, zone),
    species: entry.species,
    class: entry.class,
    note: entry.note,
    who: entry.who,
    saidAt: stationTime(entry.said_at, zone),
    insteadOf: entry.withdraws,
    takenBack: takenBackOf(entry.back, zone),
  }
}

const standsWord = ({ takenBack }: Pick<OutcomeAnswer, 'takenBack'>) =>
  takenBack === null ? 'stands' : takenBack.corrected ? 'corrected' : 'taken back'

const OUTCOME_HEADER = [
  'day',
  'program',
  'point',
  'species',
  'class',
  'head',
  'fate',
  'method',
  'effort',
  'effort unit',
  'carrier',
  'movement paper',
  'note',
  'who',
  'said at',
  'word',
  'id',
  'in place of',
]

/** Oldest first, as a log is read on paper. */
export function outcomesCsv({ outcomes }: OutcomesAnswer): string {
  return csvOf(
    OUTCOME_HEADER,
    outcomes
      .toReversed()
      .map((one) => [
        one.day,
        one.programName,
        one.pointName,
        one.species,
        one.class,
        one.head,
        one.fate,
        one.method,
        one.effort?.amount ?? null,
        one.effort?.unit ?? null,
        one.carrier,
        one.paper,
        one.note,
        one.who,
        one.saidAt,
        standsWord(one),
        one.id,
        one.insteadOf,
      ]),
  )
}

const TRAP_HEADER = [
  'at',
  'point',
  'what',
  'head held',
  'held since',
  'species',
  'class',
  'note',
  'who',
  'said at',
  'word',
  'id',
  'in place of',
]

export function trapLogCsv(entries: readonly TrapEntryAnswer[]): string {
  return csvOf(
    TRAP_HEADER,
    entries
      .toReversed()
      .map((one) => [
        one.at,
        one.pointName,
        one.kind,
        one.held,
        one.heldSince,
        one.species,
        one.class,
        one.note,
        one.who,
        one.saidAt,
        standsWord(one),
        one.id,
        one.insteadOf,
      ]),
  )
}
