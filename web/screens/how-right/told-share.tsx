/** One share as it is told: a number with its range and a bar, or why there is none yet. */
import type { ToldShareAnswer } from '../../../services/http/evidence-shapes.ts'
import { ShareBar } from '../../parts/share-bar.tsx'
import { shareWords } from '../../text/shares.ts'

interface ToldShareProps {
  readonly told: ToldShareAnswer
}

export function ToldShare({ told }: ToldShareProps) {
  const { main, small } = shareWords(told)
  return (
    <span class={`told-share ${told.kind === 'said' ? '' : 'told-not'}`}>
      <span>{main}</span>
      {told.kind === 'said' && <ShareBar share={told.share} low={told.low} high={told.high} />}
      <small>{small}</small>
    </span>
  )
}
