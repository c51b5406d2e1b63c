/** How far a card is in, and once it is over what was new, known, unreadable, and over what span. */
import type { Camera } from '../../../services/http/shapes.ts'
import { withQuery } from '../../api/questions.ts'
import { FailedNotice, Spoken } from '../../parts/notice.tsx'
import { dayYearClock, progressLine, cardWords as words } from '../../text/card.ts'
import { canAskFirst } from './browser-post.ts'
import { CardTimes } from './card-times.tsx'
import type { CardInHand, CardState } from './use-card.ts'

type Shown = Extract<CardState, { readonly kind: 'sending' | 'over' }>

interface CardProgressProps {
  readonly state: Shown
  readonly camera: Camera
  readonly card: CardInHand
}

export function CardProgressPart({ state, camera, card }: CardProgressProps) {
  const { progress, kind } = state
  const isSending = kind === 'sending'
  const isAll = progress.done === progress.total
  return (
    <>
      <div class="progress card-bar">
        <p id="card-line">{progressLine(progress)}</p>
        <progress aria-labelledby="card-line" value={progress.done} max={Math.max(1, progress.total)} />
      </div>
      {isSending && progress.waits !== null && <FailedNotice failure={progress.waits} />}
      {progress.halted !== null && <FailedNotice failure={progress.halted} />}
      {isSending && <p class="small">{canAskFirst() ? words.keepOpen : words.resends}</p>}
      <div class="button-row">
        {isSending && (
          <button type="button" class="button" onClick={card.stop}>
            {words.stop}
          </button>
        )}
        {!isSending && !isAll && (
          <button type="button" class="button button-strong" onClick={() => card.again()}>
            {words.goOn}
          </button>
        )}
      </div>
      <Spoken words={isSending ? '' : isAll ? words.done : words.stopped} />
      {!isSending && <Result state={state} camera={camera} card={card} />}
    </>
  )
}

function Result({ state: { progress, sorted }, camera, card }: CardProgressProps) {
  const { facts } = words
  const { span } = progress
  const photos = (filters: object) => withQuery('/photos', { camera: camera.id, ...filters })
  return (
    <section aria-label={words.done} class="card-result">
      <dl class="card-facts">
        <Fact name={facts.fresh} value={progress.fresh} />
        <Fact name={facts.known} value={progress.known} />
        <Fact
          name={facts.unreadable}
          value={progress.unreadable}
          href={photos({ state: 'unreadable' })}
          words={words.seeUnreadable}
        />
        <Fact
          name={facts.doubtful}
          value={progress.doubtful}
          href={photos({ doubtful: 'yes' })}
          words={words.seeDoubtful}
        />
        <Fact name={facts.failed} value={progress.failed.length} />
        <Fact name={facts.aside} value={sorted.leftAside.length} />
        {span !== null && (
          <div class="card-span">
            <dt>{facts.span}</dt>
            <dd>
              {dayYearClock(span.first)} to {dayYearClock(span.last)}
            </dd>
          </div>
        )}
      </dl>
      <div class="button-row">
        <a class="button" href={photos({})}>
          {words.seePhotos}
        </a>
        <button type="button" class="button" onClick={card.clear}>
          {words.another}
        </button>
      </div>
      {span !== null && <CardTimes camera={camera} span={span} />}
      {progress.failed.length > 0 && (
        <>
          <h2>{words.failedTitle}</h2>
          <ul class="plain-list card-files">
            {progress.failed.map(({ path, why }) => (
              <li key={path}>
                <strong>{path}</strong> {why}
              </li>
            ))}
          </ul>
          <button
            type="button"
            class="button"
            onClick={() => card.again(progress.failed.map(({ path }) => path))}
          >
            {words.tryFailed}
          </button>
        </>
      )}
      {sorted.leftAside.length > 0 && (
        <>
          <h2>{words.asideTitle}</h2>
          <ul class="plain-list card-files">
            {sorted.leftAside.slice(0, 50).map((path) => (
              <li key={path}>{path}</li>
            ))}
          </ul>
        </>
      )}
    </section>
  )
}

interface FactProps {
  readonly name: string
  readonly value: number
  readonly href?: string
  /** What the link leads to, for whoever hears it alone. */
  readonly words?: string
}

/** Nothing to tell is not told, but for the first two. */
function Fact({ name, value, href, words: says }: FactProps) {
  const isPlain = name === words.facts.fresh || name === words.facts.known
  if (value === 0 && !isPlain) return null
  return (
    <div>
      <dt>{name}</dt>
      <dd>
        {href === undefined ? (
          value.toLocaleString('en-AU')
        ) : (
          <a href={href} aria-label={`${value}: ${says}`}>
            {value.toLocaleString('en-AU')}
          </a>
        )}
      </dd>
    </div>
  )
}
