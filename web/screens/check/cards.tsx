/** A list of cards being worked through: which one the keys act on, what was said, and the way back. */
import { useEffect, useRef, useState } from 'preact/hooks'
import { useLocation } from 'preact-iso'
import type { CheckCard } from '../../../services/http/shapes.ts'
import type { CardWord } from '../../../services/tally/card-word.ts'
import type { Mark } from '../../../services/words.ts'
import { useChanges } from '../../api/changes.ts'
import { ownKindsQuestion, stationQuestion, withQuery } from '../../api/questions.ts'
import { keptAnswer, useAnswer } from '../../api/use-answer.ts'
import { switchBoxes } from '../../parts/box-switch.tsx'
import { Spoken } from '../../parts/notice.tsx'
import { cardSentence, checkWordsOnScreen as words } from '../../text/check.ts'
import { LEAST_NUMBER } from '../../text/counts.ts'
import { shellWords } from '../../text/shell.ts'
import { CheckCardView, type Opened } from './card.tsx'
import { CheckBar } from './check-bar.tsx'
import { standingCard } from './desk.ts'
import { useKeys } from './key-button.tsx'
import type { Shown } from './order.tsx'
import type { CardNow } from './standing.ts'
import { useDesk } from './use-desk.ts'

/** So far ahead photos are fetched, so that the next one stands there when its turn comes, and if the link goes. */
const CARDS_AHEAD = 6
/** With fewer left to look at the next ones are asked for, so that nobody waits for them. */
const CARDS_LEFT = 8
/** Nobody looks at a photo in less: a second tap by then is the first one's echo. */
const ECHO_MS = 300

interface CardsProps {
  readonly served: readonly CheckCard[]
  readonly night: string
  readonly shown: Shown
  /** Cards of the whole night, and how many of them the service has as checked. */
  readonly total: number
  readonly checked: number
  readonly more: () => void
  readonly askedAt: number | null
  readonly reload: () => void
}

export function Cards({ served, night, shown, total, checked, more, askedAt, reload }: CardsProps) {
  const { route } = useLocation()
  const { desk, ready, say, mark, undo, hear } = useDesk(askedAt)
  useChanges((change) => hear(change, served, reload))
  const order = useRef<string[]>([])
  const cards = inKnownOrder(served, order.current).map((card) => standingCard(desk, card))
  order.current = cards.map((card) => card.key)
  const [chosen, setActive] = useState<string | null>(null)
  const active = chosen ?? (cards.find((card) => !card.checked) ?? cards[0])?.key ?? ''
  const at = cards.findIndex((card) => card.key === active)
  const [opened, setOpened] = useState<{ key: string; what: Opened } | null>(null)
  const [spoken, setSpoken] = useState('')
  /** The card after which the next is wanted as soon as it is there. */
  const goOn = useRef<string | null>(null)
  const lastWordAt = useRef(Number.NEGATIVE_INFINITY)
  const feral = feralSpecies()
  const kinds = useAnswer(ownKindsQuestion).answer?.kinds.map(({ name }) => name) ?? []
  const shownDone = cards.filter((card) => card.checked).length
  const done = checked - served.filter((card) => card.checked).length + shownDone
  const hasMore = served.length < total
  const runsOut = ready && hasMore && cards.length - shownDone <= CARDS_LEFT
  useEffect(() => {
    if (runsOut) more()
  }, [runsOut, served.length])

  const goTo = (key: string | undefined) => {
    if (key === undefined) return
    goOn.current = null
    setActive(key)
    const element = document.getElementById(`card-${key}`)
    element?.focus({ preventScroll: true })
    // At once: a thumb that is quicker than the scroll would tap the wrong card.
    element?.scrollIntoView({ block: 'start', behavior: 'instant' })
  }
  useEffect(() => {
    if (goOn.current !== null) goTo(nextAfter(cards, goOn.current)?.key)
  }, [served.length])
  const goBy = (by: number) => goTo(cards[at + by]?.key)
  const onWord = (card: CardNow, said: { shownId: number; word: CardWord }) => {
    const counts = said.word.kind === 'count'
    const now = performance.now()
    if (!counts && now - lastWordAt.current < ECHO_MS) return
    say(card, said)
    setActive(card.key)
    setOpened(null)
    // A count may take several taps; any other word is the last one on its card.
    if (counts) return
    lastWordAt.current = now
    setSpoken(`${cardSentence(card)}: ${words.seen}.`)
    goOn.current = card.key
    goTo(nextAfter(cards, card.key)?.key)
  }
  const onMark = (card: CardNow, one: Mark, on: boolean) => {
    mark(card, one, on)
    setActive(card.key)
    setSpoken(words.marked(words.marks[one], on))
  }
  const onUndo = () => {
    const taken = undo(cards)
    setSpoken(taken === null ? words.nothingToUndo : taken.spokenOver ? words.spokenOver : words.undone)
    if (taken === null) return
    const { step } = taken
    if (cards.some(({ key }) => key === step.cardKey)) goTo(step.cardKey)
    else if (step.night !== night || (step.which === 'plain') !== (shown === 'other')) {
      route(withQuery('/check', { night: step.night, show: step.which === 'plain' ? 'other' : null }))
    }
  }

  const moves = { j: () => goBy(1), arrowdown: () => goBy(1), k: () => goBy(-1), arrowup: () => goBy(-1) }
  useKeys(true, moves, true)
  useKeys(true, { u: onUndo, b: switchBoxes })

  if (!ready) return null
  return (
    <>
      <CheckBar done={done} of={total} undo={onUndo} canUndo={desk.steps.length > 0} />
      <Spoken words={spoken} />
      <p class="key-help">{words.keys}</p>
      <div class="cards">
        {cards.map((card, place) => (
          <CheckCardView
            card={card}
            feral={feral}
            kinds={kinds}
            active={card.key === active}
            near={Math.abs(place - at) <= CARDS_AHEAD}
            opened={opened?.key === card.key ? opened.what : null}
            open={(what) => setOpened(what === null ? null : { key: card.key, what })}
            activate={() => setActive(card.key)}
            said={(said) => onWord(card, said)}
            marked={(one, on) => onMark(card, one, on)}
            key={card.key}
          />
        ))}
      </div>
      {hasMore && (
        <button type="button" class="button more" onClick={more}>
          {shellWords.more}
        </button>
      )}
      {done === total && (
        <div class="all-done">
          <p>{shown === 'other' ? words.allOtherDone : words.allDone}</p>
          {shown !== 'other' && (
            <a class="button" href={withQuery('/check', { night, show: 'other' })}>
              {words.shown.other.name}
            </a>
          )}
        </div>
      )}
      <p class="honesty">{LEAST_NUMBER}</p>
    </>
  )
}

/** The next card down the list that waits. */
function nextAfter(cards: readonly CardNow[], key: string): CardNow | undefined {
  const place = cards.findIndex((card) => card.key === key)
  return cards.slice(place + 1).find((card) => !card.checked)
}

function feralSpecies() {
  const species = keptAnswer(stationQuestion)?.station?.species ?? []
  return new Set(species.filter(({ role }) => role === 'feral').map((setting) => setting.species))
}

/** Cards keep their place while a person works through them, whatever a word does to the service's order. */
function inKnownOrder(cards: readonly CheckCard[], known: readonly string[]): CheckCard[] {
  const place = (card: CheckCard) => {
    const at = known.indexOf(card.key)
    return at < 0 ? known.length : at
  }
  return [...cards].sort((a, b) => place(a) - place(b))
}
