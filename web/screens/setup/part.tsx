/** One part of Set-up under its heading: open where most need it, folded where only some do. */
import type { ComponentChildren } from 'preact'
import { Fold } from '../../parts/fold.tsx'
import { setupWords as words } from '../../text/setup.ts'

export type PartName = keyof typeof words.parts

export interface PartProps {
  readonly name: PartName
  /** 2 where the part stands alone, 3 under the heading of a group. */
  readonly level?: 2 | 3
  readonly children: ComponentChildren
}

export function Part({ name, level = 3, children }: PartProps) {
  const Heading = `h${level}` as const
  return (
    <section id={name} aria-labelledby={`${name}-head`}>
      <Heading id={`${name}-head`}>{words.parts[name]}</Heading>
      {children}
    </section>
  )
}

interface FoldedPartProps extends PartProps {
  readonly name: keyof typeof words.folded
  readonly open: boolean
  readonly turned: (open: boolean) => void
}

export function FoldedPart({ name, open, turned, children }: FoldedPartProps) {
  const head = (
    <>
      <h3 id={`${name}-head`}>{words.parts[name]}</h3>
      <small>{words.folded[name]}</small>
    </>
  )
  return (
    <section id={name} aria-labelledby={`${name}-head`}>
      <Fold head={head} open={open} turned={turned}>
        {children}
      </Fold>
    </section>
  )
}
