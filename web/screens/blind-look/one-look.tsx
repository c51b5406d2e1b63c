/** One blind look: its photos one after the other, without boxes, and a count for each. */
import { useEffect, useRef, useState } from 'preact/hooks'
import type { LookRecorded, OpenLook } from '../../../services/http/audit-shapes.ts'
import { SPECIES, type Tally } from '../../../services/words.ts'
import { type Failure, failureOf, tell } from '../../api/ask.ts'
import { Icon } from '../../parts/icon.tsx'
import { FailedNotice } from '../../parts/notice.tsx'
import { blindLookWords as words } from '../../text/blind-look.ts'
import { dayAndClock } from '../../text/times.ts'
import { KeyButton, useKeys } from '../check/key-button.tsx'
import { AllPhotos, BlindPhoto } from './blind-photo.tsx'
import { Heads } from './heads.tsx'
import { type LookInHand, nothingInAny, saidOf, startLook, stepBack, withHead } from './said.ts'

interface OneLookProps {
  readonly look: OpenLook
  readonly recorded: (answer: LookRecorded) => void
}

export function OneLook({ look, recorded }: OneLookProps) {
  const [hand, setHand] = useState<LookInHand>(startLook)
  const latest = useRef(hand)
  const put = (next: LookInHand) => {
    latest.current = next
    setHand(next)
  }
  const [failure, setFailure] = useState<Failure | null>(null)
  const [sending, setSending] = useState(false)
  const { photos } = look
  const photo = photos[hand.at]
  const head = useRef<HTMLHeadingElement>(null)
  const shownAt = useRef(hand.at)
  useEffect(() => {
    if (shownAt.current === hand.at) return
    shownAt.current = hand.at
    head.current?.focus({ preventScroll: true })
    head.current?.scrollIntoView({ block: 'start' })
  }, [hand.at])

  const send = async (said: readonly Tally[]) => {
    setSending(true)
    setFailure(null)
    try {
      const body = { words: photos.map(({ id }, index) => ({ stillId: id, counts: said[index] ?? {} })) }
      recorded(await tell<LookRecorded>('POST', `/api/audits/looks/${look.id}`, body))
    } catch (thrown) {
      // Said but not sent: the last photo is shown again with its count, to be sent once more.
      put(stepBack({ at: said.length, counts: {}, said }))
      setFailure(failureOf(thrown))
    } finally {
      setSending(false)
    }
  }
  const go = (next: LookInHand) => {
    if (next.at >= photos.length) void send(next.said)
    else put(next)
  }
  const before = hand.said[hand.at - 1]
  const empty = isEmpty(hand)
  // Two keys may come before the page is drawn again: each goes by what the one before it left.
  const whenever = (is: (now: LookInHand) => boolean, to: (now: LookInHand) => LookInHand) => () => {
    if (!sending && is(latest.current)) go(to(latest.current))
  }
  const acts = {
    n: whenever(isEmpty, (now) => saidOf(now, {})),
    a: whenever(
      (now) => !isEmpty(now),
      (now) => saidOf(now, now.counts),
    ),
    r: whenever(
      ({ at }) => at > 0,
      (now) => saidOf(now, now.said[now.at - 1]!),
    ),
    0: whenever(
      () => true,
      (now) => ({ ...now, counts: {} }),
    ),
    ...Object.fromEntries(
      SPECIES.map((species, index) => [
        String(index + 1),
        whenever(
          () => true,
          (now) => withHead(now, species, 1),
        ),
      ]),
    ),
  }
  useKeys(true, acts)
  if (photo === undefined) return null
  return (
    <section class="blind-look" aria-labelledby="look-head">
      <h2 id="look-head" ref={head} tabIndex={-1}>
        {look.pointName}, {dayAndClock(photo.takenAt)}
      </h2>
      <p class="small">
        {words.photo(hand.at + 1, photos.length)}, {look.cameraName}
      </p>
      <BlindPhoto photo={photo} />
      {hand.at === 0 && photos.length > 1 && (
        <>
          <AllPhotos photos={photos} />
          <button
            type="button"
            class="button"
            disabled={sending}
            onClick={() => go(nothingInAny(photos.length))}
          >
            <Icon name="none" />
            {words.nothingInAny(photos.length)}
          </button>
        </>
      )}
      <h3>{words.what}</h3>
      <p class="hint">{words.nothingHint}</p>
      <Heads counts={hand.counts} step={(species, by) => put(withHead(latest.current, species, by))} />
      <div class="button-row">
        <KeyButton
          act={empty && !sending ? acts.n : undefined}
          letter="N"
          icon="none"
          words={words.nothing}
          strong={empty}
        />
        {before !== undefined && <KeyButton act={acts.r} letter="R" icon="copy" words={words.asBefore} />}
        <KeyButton
          act={empty || sending ? undefined : acts.a}
          letter="A"
          icon="tick"
          words={words.all}
          strong={!empty}
        />
        {hand.at > 0 && (
          <button
            type="button"
            class="button"
            disabled={sending}
            onClick={() => put(stepBack(latest.current))}
          >
            <Icon name="left" />
            {words.back}
          </button>
        )}
      </div>
      {failure !== null && <FailedNotice failure={failure} />}
      <p class="key-help">{words.keys}</p>
    </section>
  )
}

const isEmpty = ({ counts }: LookInHand) => Object.keys(counts).length === 0
