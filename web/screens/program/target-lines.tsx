/** The points of a target list in order; moved by buttons and keys, and kept in the new order with one press. */
import { useEffect, useRef, useState } from 'preact/hooks'
import type { TargetLine, TargetListAnswer } from '../../../services/http/program-shapes.ts'
import { Spoken } from '../../parts/notice.tsx'
import { programWords as words } from '../../text/programs.ts'
import type { SayEdit } from './target-list.tsx'
import { TargetPoint } from './target-point.tsx'

interface TargetLinesProps {
  readonly list: TargetListAnswer
  /** Null: the program is over. */
  readonly say: SayEdit | null
  readonly reload: () => void
}

export type Step = -1 | 1

export function TargetLines({ list, say, reload }: TargetLinesProps) {
  const asKept = list.lines.map(({ pointId }) => pointId)
  const [order, setOrder] = useState<readonly number[] | null>(null)
  const [said, setSaid] = useState('')
  const moved = useRef<{ readonly pointId: number; readonly by: Step } | null>(null)
  const shown = linesIn(order ?? asKept, list.lines)

  useEffect(() => {
    // A line that changes its place in the page loses the keyboard.
    if (moved.current !== null) focusMover(moved.current)
    moved.current = null
  }, [order])

  const move = (pointId: number, by: Step) => {
    const now = shown.map((line) => line.pointId)
    const [from, to] = [now.indexOf(pointId), now.indexOf(pointId) + by]
    if (to < 0 || to >= now.length) return
    now.splice(to, 0, ...now.splice(from, 1))
    moved.current = { pointId, by }
    setOrder(now)
    setSaid(words.movedTo(shown[from]!.name, to + 1, now.length))
  }
  const changed = order?.some((pointId, i) => pointId !== asKept[i]) ?? false
  return (
    <>
      {say !== null && list.lines.length > 1 && <p class="small key-help">{words.moveHint}</p>}
      <ol class="target-lines">
        {shown.map((line, place) => (
          <TargetPoint
            line={line}
            place={place}
            of={shown.length}
            list={list}
            moved={changed}
            move={say === null ? null : (by) => move(line.pointId, by)}
            say={say}
            reload={reload}
            key={line.pointId}
          />
        ))}
      </ol>
      <Spoken words={changed ? said : ''} />
      {changed && say !== null && (
        <div class="order-bar">
          <p>{words.orderChanged}</p>
          <div class="button-row">
            <button
              type="button"
              class="button button-strong"
              onClick={() => say({ kind: 'order', pointIds: shown.map(({ pointId }) => pointId) })}
            >
              {words.keepOrder}
            </button>
            <button type="button" class="button" onClick={() => setOrder(null)}>
              {words.undoOrder}
            </button>
          </div>
        </div>
      )}
    </>
  )
}

/** In this order; lines that it does not name stay at the end. */
function linesIn(order: readonly number[], lines: readonly TargetLine[]): TargetLine[] {
  const place = (line: TargetLine) => {
    const at = order.indexOf(line.pointId)
    return at < 0 ? order.length : at
  }
  return lines.toSorted((a, b) => place(a) - place(b))
}

export const moverId = (pointId: number, by: Step) => `${by < 0 ? 'up' : 'down'}-${pointId}`

/** The button that was pressed, or the other one where the line can't go further. */
function focusMover({ pointId, by }: { readonly pointId: number; readonly by: Step }): void {
  const [pressed, other] = [by, -by as Step].map((step) =>
    document.getElementById(moverId(pointId, step)),
  ) as [HTMLButtonElement | null, HTMLButtonElement | null]
  ;(pressed?.disabled ? other : pressed)?.focus()
}
