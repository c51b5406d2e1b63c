/** What may be changed at a point of the list: its note, how it is reached, that it is on the list at all. */
import { useState } from 'preact/hooks'
import type { TargetLine } from '../../../services/http/program-shapes.ts'
import { AccessForm } from '../../parts/access-form.tsx'
import { Opener } from '../../parts/opener.tsx'
import { programWords as words } from '../../text/programs.ts'
import { NoteForm } from './note-form.tsx'
import type { SayEdit } from './target-list.tsx'

type Open = 'note' | 'access' | null

interface PointChangesProps {
  readonly line: TargetLine
  readonly say: SayEdit
  readonly reload: () => void
}

export function PointChanges({ line, say, reload }: PointChangesProps) {
  const [open, setOpen] = useState<Open>(null)
  const [left, setLeft] = useState<Open>(null)
  const close = () => {
    setLeft(open)
    setOpen(null)
  }
  if (open === 'note') return <NoteForm line={line} say={say} close={close} />
  if (open === 'access')
    return (
      <AccessForm
        point={{ id: line.pointId, name: line.name }}
        access={line.access}
        done={() => {
          close()
          reload()
        }}
        cancel={close}
      />
    )
  return (
    <div class="button-row">
      <Opener label={words.noteAt(line.name)} back={left === 'note'} press={() => setOpen('note')}>
        {words.note}
      </Opener>
      <Opener label={words.accessAt(line.name)} back={left === 'access'} press={() => setOpen('access')}>
        {words.gettingThere}
      </Opener>
      <button
        type="button"
        class="button button-bare"
        aria-label={words.takeOff(line.name)}
        onClick={() => say({ kind: 'drop', pointId: line.pointId })}
      >
        {words.takeOffShort}
      </button>
    </div>
  )
}
