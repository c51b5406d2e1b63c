/** A program's target list: the ranking, and over it what people changed. What a person said no ranking undoes. */
import { Refusal } from '../refusal.ts'

export type TargetEdit =
  | { readonly kind: 'add'; readonly pointId: number }
  | { readonly kind: 'drop'; readonly pointId: number }
  /** These first, in this order; the others after them as they are. */
  | { readonly kind: 'order'; readonly pointIds: readonly number[] }
  /** An empty text takes the note away. */
  | { readonly kind: 'note'; readonly pointId: number; readonly text: string }

export interface TargetLine {
  readonly pointId: number
  /** Its place in the ranking, from 1; null for a point that is on the list by hand alone. */
  readonly ranked: number | null
  readonly byHand: boolean
  readonly note: string | null
}

export interface TargetList {
  /** The number of changes made to it, so that two people who change it at once are told. */
  readonly version: number
  readonly lines: readonly TargetLine[]
}

/** The list as it stands: all changes in their order over the ranking of today. A change of a point that is gone does nothing. */
export function targetList(ranking: readonly number[], edits: readonly TargetEdit[]): TargetList {
  let order = [...ranking]
  const added = new Set<number>()
  const notes = new Map<number, string>()
  const dropped = new Set<number>()
  for (const edit of edits) {
    switch (edit.kind) {
      case 'add':
        dropped.delete(edit.pointId)
        if (!order.includes(edit.pointId)) order.push(edit.pointId)
        added.add(edit.pointId)
        break
      case 'drop':
        dropped.add(edit.pointId)
        added.delete(edit.pointId)
        break
      case 'order': {
        const first = edit.pointIds.filter((id) => order.includes(id))
        order = [...first, ...order.filter((id) => !first.includes(id))]
        break
      }
      case 'note':
        notes.set(edit.pointId, edit.text)
    }
  }
  return {
    version: edits.length,
    lines: order
      .filter((pointId) => !dropped.has(pointId))
      .map((pointId) => ({
        pointId,
        ranked: ranking.includes(pointId) ? ranking.indexOf(pointId) + 1 : null,
        byHand: added.has(pointId),
        note: notes.get(pointId)?.trim() || null,
      })),
  }
}

/**
 * All changes with one more, made on the list of that `version`.
 * @throws Refusal where somebody else has changed it since, or the change does not fit the list
 */
export function withEdit(
  given: { readonly ranking: readonly number[]; readonly edits: readonly TargetEdit[] },
  edit: TargetEdit,
  version: number,
): TargetEdit[] {
  const { ranking, edits } = given
  if (version !== edits.length)
    throw new Refusal({
      kind: 'conflict',
      detail: `The target list is at change ${edits.length}, and this was made on change ${version}.`,
      field: 'version',
      remedy: 'Load the list again: somebody has changed it since.',
    })
  const on = new Set(targetList(ranking, edits).lines.map(({ pointId }) => pointId))
  const wrong = misfit(edit, on)
  if (wrong !== null)
    throw new Refusal({
      kind: 'bad input',
      detail: wrong.detail,
      field: wrong.field,
      remedy: 'Load the list again and change what is on it.',
    })
  return [...edits, edit]
}

function misfit(edit: TargetEdit, on: ReadonlySet<number>): { detail: string; field: string } | null {
  if (edit.kind === 'order') {
    const { pointIds } = edit
    if (new Set(pointIds).size < pointIds.length)
      return { detail: 'An order names each point once.', field: 'pointIds' }
    const unknown = pointIds.find((id) => !on.has(id))
    return unknown === undefined
      ? null
      : { detail: `Point ${unknown} is not on the target list.`, field: 'pointIds' }
  }
  if (edit.kind === 'add')
    return on.has(edit.pointId)
      ? { detail: `Point ${edit.pointId} is on the target list already.`, field: 'pointId' }
      : null
  return on.has(edit.pointId)
    ? null
    : { detail: `Point ${edit.pointId} is not on the target list.`, field: 'pointId' }
}
