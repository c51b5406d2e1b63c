/** The way from Set-up to the blind look, and to what it says. */
import { openLooksQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { blindLookWords } from '../../text/blind-look.ts'
import { setupWords } from '../../text/setup.ts'

const words = setupWords.howRight

export function HowRightPart() {
  const { answer } = useAnswer(openLooksQuestion)
  const open = answer?.open ?? 0
  return (
    <>
      <p class="hint">{words.hint}</p>
      <div class="button-row">
        <a class={`button ${open > 0 ? 'button-strong' : ''}`} href="/blind-look">
          {words.look}
          {open > 0 && `: ${blindLookWords.open(open)}`}
        </a>
        <a class="button" href="/how-right">
          {words.page}
        </a>
      </div>
    </>
  )
}
