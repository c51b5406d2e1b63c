/** Photos to check: the night's flagged photos as one long scroll of cards, one key or one thumb each. */

import { useEffect, useRef, useState } from 'preact/hooks'
import { useLocation, useRoute } from 'preact-iso'
import type { CheckCard, CheckCardsAnswer } from '../../services/http/shapes.ts'
import type { CardWord } from '../../services/tally/cards.ts'
import { cardsQuestion, stationQuestion, waterRunQuestion, withQuery } from '../api/questions.ts'
import { keptAnswer, useAnswer } from '../api/use-answer.ts'
import { BoxSwitch, switchBoxes } from '../parts/box-switch.tsx'
import { Icon } from '../parts/icon.tsx'
import { isTyping } from '../parts/keys.ts'
import { NightPicker } from '../parts/night-picker.tsx'
import { EmptyNotice, FailedNotice, Skeleton, Spoken } from '../parts/notice.tsx'
import { Screen } from '../parts/screen.tsx'
import { cardSentence, doneWords, checkWordsOnScreen as words } from '../text/check.ts'
import { LEAST_NUMBER } from '../text/counts.ts'
import { shellWords } from '../text/shell.ts'
import { nightAt } from '../text/times.ts'
import { CheckCardView } from './check/card.tsx'
import { isChecked, standingCard } from './check/desk.ts'
import { useDesk } from './check/use-desk.ts'

/** Photos come in while a person works; their cards join at the end of the list. */
const POLL_MS = 30_000
/** Cards fetched at once; the rest come as these are worked through, or with "Show more". */
const CARDS_A_PAGE = 20
/** The service gives no more of one night. */
const MOST_CARDS = 1_000

export function CheckScreen() {
  const night = useRoute().query.night ?? null
  const [limit, setLimit] = useState(CARDS_A_PAGE)
  const asked = useAnswer(cardsQuestion(night, limit), POLL_MS)
  const { failure, reload } = asked
  const answer = useLastAnswer(night, asked.answer)
  const now = keptAnswer(waterRunQuestion(null))?.now ?? null
  return (
    <Screen title={words.title} kind="check" aside={<BoxSwitch />}>
      {answer === null && failure === null && <Skeleton shape="photo" count={2} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {answer !== null && (
        <>
          <NightPicker
            night={answer.night}
            hasLater={now === null ? night !== null : answer.night < nightAt(now)}
            href={(to) => withQuery('/check', { night: to })}
          />
          {answer.cards.length === 0 ? (
            <EmptyNotice words={words.none} />
          ) : (
            <Cards
              served={answer.cards}
              night={answer.night}
              total={answer.waiting + answer.checked}
              checked={answer.checked}
              more={() => setLimit((before) => Math.min(MOST_CARDS, before + CARDS_A_PAGE))}
              answer={answer}
              reload={reload}
              key={answer.night}
            />
          )}
        </>
      )}
    </Screen>
  )
}

/** While more cards of a night are on their way, those that are there stay: a person is working on them. */
function useLastAnswer(night: string | null, answer: CheckCardsAnswer | null): CheckCardsAnswer | null {
  const last = useRef<{ night: string | null; answer: CheckCardsAnswer } | null>(null)
  if (answer !== null) last.current = { night, answer }
  return last.current !== null && last.current.night === night ? last.current.answer : null
}

interface CardsProps {
  readonly served: readonly CheckCard[]
  readonly night: string
  /** Cards of the whole night, and how many of them the service has as checked. */
  readonly total: number
  readonly checked: number
  readonly more: () => void
  readonly answer: unknown
  readonly reload: () => void
}

function Cards({ served, night, total, checked, more, answer, reload }: CardsProps) {
  const { route } = useLocation()
  const { desk, outbox, say, undo, sendNow } = useDesk(answer, reload)
  const order = useRef<string[]>([])
  const cards = inKnownOrder(served, order.current).map((card) => standingCard(desk, card))
  order.current = cards.map((card) => card.key)
  const firstOpen = cards.find((card) => !card.checked)?.key ?? cards[0]?.key ?? ''
  const [active, setActive] = useState(firstOpen)
  const [choosing, setChoosing] = useState<string | null>(null)
  const [spoken, setSpoken] = useState('')
  const feral = feralSpecies()
  const shownDone = cards.filter((card) => card.checked).length
  const done = checked - served.filter((card) => card.checked).length + shownDone
  const hasMore = served.length < total
  const workedThrough = hasMore && shownDone === cards.length
  useEffect(() => {
    if (workedThrough) more()
  }, [workedThrough, served.length])

  const goTo = (key: string | undefined) => {
    if (key === undefined) return
    setActive(key)
    const element = document.getElementById(`card-${key}`)
    element?.focus({ preventScroll: true })
    element?.scrollIntoView({ block: 'start' })
  }
  const goBy = (by: number) => goTo(cards[cards.findIndex((card) => card.key === active) + by]?.key)
  const onWord = (card: CheckCard, said: { shownId: number; word: CardWord }) => {
    say(card, said)
    setActive(card.key)
    setChoosing(null)
    // A count may take several taps; any other word is the last one on its card.
    if (said.word.kind === 'count') return
    const at = cards.findIndex(({ key }) => key === card.key)
    const next = cards.slice(at + 1).find((after) => !isChecked(desk, after))
    setSpoken(`${cardSentence(card)}: ${words.seen}.`)
    goTo(next?.key)
  }
  const onUndo = () => {
    const step = undo(served)
    setSpoken(step === null ? words.nothingToUndo : words.undone)
    if (step === null) return
    if (step.night === night) goTo(step.cardKey)
    else route(withQuery('/check', { night: step.night }))
  }

  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      if (isTyping(event)) return
      const key = event.key.toLowerCase()
      if (key === 'j' || key === 'arrowdown') goBy(1)
      else if (key === 'k' || key === 'arrowup') goBy(-1)
      else if (key === 'u') onUndo()
      else if (key === 'b') switchBoxes()
      else return
      event.preventDefault()
    }
    addEventListener('keydown', press)
    return () => removeEventListener('keydown', press)
  })

  return (
    <>
      <div class="check-bar">
        <p>
          <strong>{doneWords(done, total)}</strong>
          <progress value={done} max={total} aria-label={doneWords(done, total)} />
        </p>
        <button type="button" class="button" onClick={onUndo} disabled={desk.steps.length === 0}>
          <Icon name="undo" />
          {words.undo} <kbd>U</kbd>
        </button>
      </div>
      {outbox.failure !== null && (
        <div class="notice notice-failed" role="alert">
          <Icon name="alarm" />
          <div>
            <p class="notice-what">{words.sendingFailed(outbox.waiting)}</p>
            <button type="button" class="button" onClick={sendNow}>
              {words.sendNow}
            </button>
          </div>
        </div>
      )}
      {outbox.refused !== null && (
        <FailedNotice failure={{ ...outbox.refused, what: words.refused(outbox.refused.what) }} />
      )}
      <Spoken words={spoken} />
      <p class="key-help">{words.keys}</p>
      <div class="cards">
        {cards.map((card) => (
          <CheckCardView
            card={card}
            feral={feral}
            active={card.key === active}
            choosing={choosing === card.key}
            setChoosing={(open) => setChoosing(open ? card.key : null)}
            activate={() => setActive(card.key)}
            said={(said) => onWord(card, said)}
            key={card.key}
          />
        ))}
      </div>
      {hasMore && (
        <button type="button" class="button more" onClick={more}>
          {shellWords.more}
        </button>
      )}
      {done === total && <p class="all-done">{words.allDone}</p>}
      <p class="honesty">{LEAST_NUMBER}</p>
    </>
  )
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
