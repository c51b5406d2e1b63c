/** One blind look: its photos one after the other, without boxes, and a count for each. */
import { useEffect, useRef, useState } from 'preact/hooks'
import type { LookRecorded, OpenLook } from '../../../services/http/audit-shapes.ts'
import { SPECIES, type Tally } from '../../../services/words.ts'
import { type Failure, failureOf, tell } from '../../api/ask.ts'
import { Icon } from '../../parts/icon.tsx'
import { FailedNotice } from '../../parts/notice.tsx'
import { blindLookWords as words } from '../../text/blind-look.ts'
import { speciesMany, speciesName } from '../../text/counts.ts'
import { photoWords } from '../../text/photo.ts'
import { dayAndClock } from '../../text/times.ts'
import { KeyButton, useKeys } from '../check/key-button.tsx'
import { type LookInHand, nothingInAny, saidOf, startLook, stepBack, withHead } from './said.ts'

interface OneLookProps {
  readonly look: OpenLook
  readonly recorded: (answer: LookRecorded) => void
}

export function OneLook({ look, recorded }: OneLookProps) {
  const [hand, setHand] = useState<LookInHand>(startLook)
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
      setHand(stepBack({ at: said.length, counts: {}, said }))
      setFailure(failureOf(thrown))
    } finally {
      setSending(false)
    }
  }
  const go = (next: LookInHand) => {
    if (next.at >= photos.length) void send(next.said)
    else setHand(next)
  }
  const before = hand.said[hand.at - 1]
  const empty = Object.keys(hand.counts).length === 0
  const acts: Readonly<Record<string, () => void>> = sending
    ? {}
    : {
        0: () => setHand({ ...hand, counts: {} }),
        ...(before === undefined ? {} : { r: () => go(saidOf(hand, before)) }),
        ...(empty ? { n: () => go(saidOf(hand, {})) } : { a: () => go(saidOf(hand, hand.counts)) }),
        ...Object.fromEntries(
          SPECIES.map((species, index) => [String(index + 1), () => setHand(withHead(hand, species, 1))]),
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
        <button
          type="button"
          class="button"
          disabled={sending}
          onClick={() => go(nothingInAny(photos.length))}
        >
          <Icon name="none" />
          {words.nothingInAny(photos.length)}
        </button>
      )}
      <h3>{words.what}</h3>
      <p class="hint">{words.nothingHint}</p>
      <ul class="steppers">
        {SPECIES.map((species, index) => (
          <li key={species}>
            <span class="stepper-name">
              {speciesName(species)} <kbd>{index + 1}</kbd>
            </span>
            <button
              type="button"
              class="button button-square"
              aria-label={photoWords.fewer(species)}
              onClick={() => setHand(withHead(hand, species, -1))}
            >
              <Icon name="minus" />
            </button>
            <output aria-label={speciesMany(species)}>{hand.counts[species] ?? 0}</output>
            <button
              type="button"
              class="button button-square"
              aria-label={photoWords.more(species)}
              onClick={() => setHand(withHead(hand, species, 1))}
            >
              <Icon name="plus" />
            </button>
          </li>
        ))}
      </ul>
      <div class="button-row">
        <KeyButton act={acts.n} letter="N" icon="none" words={words.nothing} strong={empty} />
        {before !== undefined && <KeyButton act={acts.r} letter="R" icon="copy" words={words.asBefore} />}
        <KeyButton act={acts.a} letter="A" icon="tick" words={words.all} strong={!empty} />
        {hand.at > 0 && (
          <button type="button" class="button" disabled={sending} onClick={() => setHand(stepBack(hand))}>
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

function BlindPhoto({ photo }: { readonly photo: OpenLook['photos'][number] }) {
  const { width, height } = photo
  const shape = { aspectRatio: `${width ?? 16} / ${height ?? 9}` }
  if (photo.kept === 'none') {
    return (
      <div class="photo photo-none" style={shape}>
        <Icon name="none" />
        <span>{words.gone}</span>
      </div>
    )
  }
  return (
    <a
      class="photo blind-photo"
      style={{ ...shape, backgroundImage: `url("${photo.smallUrl}")` }}
      href={photo.kept === 'whole' ? photo.fullUrl : photo.smallUrl}
      target="_blank"
      rel="noreferrer"
      aria-label={words.enlarge}
    >
      <img
        src={photo.kept === 'whole' ? photo.fullUrl : photo.smallUrl}
        alt={words.alt}
        {...(width === null || height === null ? {} : { width, height })}
        key={photo.id}
      />
    </a>
  )
}
