/** Photos to check: the night's photos that need a look as one long scroll of cards, one key or one thumb each. */
import { useRef, useState } from 'preact/hooks'
import { useRoute } from 'preact-iso'
import type { CheckCardsAnswer } from '../../services/http/shapes.ts'
import { cardsQuestion, waterRunQuestion, withQuery } from '../api/questions.ts'
import { keptAnswer, useAnswer } from '../api/use-answer.ts'
import { BoxSwitch } from '../parts/box-switch.tsx'
import { NightPicker } from '../parts/night-picker.tsx'
import { EmptyNotice, FailedNotice, Skeleton } from '../parts/notice.tsx'
import { Screen } from '../parts/screen.tsx'
import { checkWordsOnScreen as words } from '../text/check.ts'
import { nightAt } from '../text/times.ts'
import { Cards } from './check/cards.tsx'
import { LinkNotice } from './check/link-notice.tsx'
import { OrderChoice, type Shown, shownBy } from './check/order.tsx'

/** Photos come in while a person works; their cards join at the end of the list. */
const POLL_MS = 30_000
/** Cards fetched at once; the rest come as these are worked through, or with "Show more". */
const CARDS_A_PAGE = 20
/** The service gives no more of one night. */
const MOST_CARDS = 1_000

export function CheckScreen() {
  const { query } = useRoute()
  const night = query.night ?? null
  const shown = shownBy(query.show)
  // Another night or order begins at its first page.
  return <OneList night={night} shown={shown} key={`${night} ${shown}`} />
}

function OneList({ night, shown }: { readonly night: string | null; readonly shown: Shown }) {
  const [limit, setLimit] = useState(CARDS_A_PAGE)
  const { answer: asked, askedAt, failure, reload } = useAnswer(cardsQuestion(night, shown, limit), POLL_MS)
  const answer = useLastAnswer(asked)
  const now = keptAnswer(waterRunQuestion(null))?.now ?? null
  return (
    <Screen title={words.title} kind="check" aside={<BoxSwitch />}>
      {answer === null && failure === null && <Skeleton shape="photo" count={2} />}
      <LinkNotice />
      {failure !== null && (answer === null || failure.status !== null) && (
        <FailedNotice failure={failure} again={reload} />
      )}
      {answer !== null && (
        <>
          <NightPicker
            night={answer.night}
            hasLater={now === null ? night !== null : answer.night < nightAt(now)}
            href={(to) => withQuery('/check', { night: to, show: query(shown) })}
          />
          {answer.cards.length === 0 ? (
            <EmptyNotice words={shown === 'other' ? words.noOther : words.none} />
          ) : (
            <Cards
              served={answer.cards}
              night={answer.night}
              shown={shown}
              total={answer.waiting + answer.checked}
              checked={answer.checked}
              more={() => setLimit((before) => Math.min(MOST_CARDS, before + CARDS_A_PAGE))}
              askedAt={askedAt}
              reload={reload}
              key={answer.night}
            />
          )}
          <OrderChoice shown={shown} night={night} />
        </>
      )}
    </Screen>
  )
}

const query = (shown: Shown) => (shown === 'matters' ? null : shown)

/** While more cards of a night are on their way, those that are there stay: a person is working on them. */
function useLastAnswer(answer: CheckCardsAnswer | null): CheckCardsAnswer | null {
  const last = useRef<CheckCardsAnswer | null>(null)
  if (answer !== null) last.current = answer
  return last.current
}
