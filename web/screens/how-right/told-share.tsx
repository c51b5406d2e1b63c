/** One share as it is told: a number with its range and a bar, or why there is none yet. */
import type { ToldShareAnswer } from '../../../services/http/evidence-shapes.ts'
import { ShareBar } from '../../parts/share-bar.tsx'
import { shareWords } from '../../text/shares.ts'

interface ToldShareProps {
  readonly told: ToldShareAnswer
  /** What it takes to say that there are hardly any. */
  readonly none?: string
}

export function ToldShare({ told, none = '' }: ToldShareProps) {
  const { main, small } = shareWords(told, none)
  return (
    <span class={`told-share ${told.kind === 'said' ? '' : 'told-not'}`}>
      <span>{main}</span>
      {told.kind === 'said' && <ShareBar share={told.share} low={told.low} high={told.high} />}
      <small>{small}</small>
    </span>
  )
}
