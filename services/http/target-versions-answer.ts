/** Every version of a program's target list that was kept, with what was expected then. */

import { targetListVersions } from '../store/kept-lists.ts'
import type { Ledger } from '../store/open.ts'
import { listPoints } from '../store/points.ts'
import { findProgram } from '../store/programs.ts'
import { readSettings } from '../store/settings.ts'
import { stationTime } from './answers.ts'
import type { TargetVersionsAnswer } from './program-shapes.ts'
import { expectedOf } from './target-list-answer.ts'

export async function targetVersionsOf(ledger: Ledger, programId: number): Promise<TargetVersionsAnswer> {
  await findProgram(ledger, programId)
  const [{ zone }, points, versions] = await Promise.all([
    readSettings(ledger),
    listPoints(ledger),
    targetListVersions(ledger, programId),
  ])
  const names = new Map(points.map(({ id, name }) => [id, name]))
  return {
    versions: versions.toReversed().map(({ version, at, who, edit, list }) => ({
      version,
      at: stationTime(at, zone),
      who,
      edit: edit?.kind === 'order' ? { ...edit, pointIds: [...edit.pointIds] } : edit,
      nights: { from: list.nights.from, to: list.nights.to },
      lines: list.lines.map(({ pointId, byHand, note, expected }) => ({
        pointId,
        name: names.get(pointId) ?? '',
        byHand,
        note,
        ...expectedOf(expected, zone),
      })),
    })),
  }
}
