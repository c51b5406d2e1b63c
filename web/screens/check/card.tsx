/** One card of Photos to check: the best photo large, the sentence, the others in a strip, and big buttons. */
import { useState } from 'preact/hooks'
import type { CardWord } from '../../../services/tally/card-word.ts'
import { MARKS, type Mark, SPECIES, type Species } from '../../../services/words.ts'
import { Icon } from '../../parts/icon.tsx'
import { Photo } from '../../parts/photo.tsx'
import { rememberList } from '../../parts/photo-list.ts'
import { cardSentence, standsLine, checkWordsOnScreen as words } from '../../text/check.ts'
import { speciesName } from '../../text/counts.ts'
import { clockOf } from '../../text/times.ts'
import { CardTags } from './card-tags.tsx'
import { countedSpecies } from './desk.ts'
import { type Acts, KeyButton, useKeys } from './key-button.tsx'
import { Marks } from './marks.tsx'
import { MOST_KEYS, SpeciesChoice } from './species-choice.tsx'
import type { CardNow } from './standing.ts'
import { CardStrip } from './strip.tsx'

/** What is folded out on a card. */
export type Opened = 'species' | 'marks'

interface CheckCardProps {
  readonly card: CardNow
  readonly feral: ReadonlySet<Species>
  /** Of the station's own, by name. */
  readonly kinds: readonly string[]
  /** The card that single keys act on. */
  readonly active: boolean
  /** Soon to be looked at: its photo is fetched. */
  readonly near: boolean
  readonly opened: Opened | null
  readonly open: (what: Opened | null) => void
  readonly activate: () => void
  readonly said: (said: { shownId: number; word: CardWord }) => void
  readonly marked: (mark: Mark, on: boolean) => void
}

export function CheckCardView(props: CheckCardProps) {
  const { card, feral, kinds, active, near, opened, open, activate, marked } = props
  const [shownId, setShownId] = useState(card.best.id)
  const [picked, setPicked] = useState<Species | null>(null)
  const shown = card.stills.find((still) => still.id === shownId) ?? card.best
  const species = countedSpecies(card, shown, feral)
  const counting = picked !== null && species.includes(picked) ? picked : (species[0] ?? null)
  const head = counting === null ? 0 : (shown.tally[counting] ?? 0)
  const say = (word: CardWord) => props.said({ shownId: shown.id, word })
  const become = (to: Species) => {
    if (counting === null || head === 0)
      say({ kind: 'count', species: to, head: Math.max(1, shown.tally[to] ?? 0) })
    else say({ kind: 'species', from: counting, to })
  }
  const becomeOther = (name: string) => say({ kind: 'other', from: head === 0 ? null : counting, name })
  const turn = (what: Opened) => open(opened === what ? null : what)
  const acts: Acts = {
    a: () => say({ kind: 'agree' }),
    n: () => say({ kind: 'nothing there' }),
    s: () => turn('species'),
    m: () => turn('marks'),
    ...(counting !== null && head > 0
      ? { '-': () => say({ kind: 'count', species: counting, head: head - 1 }) }
      : {}),
    ...(counting !== null ? { '+': () => say({ kind: 'count', species: counting, head: head + 1 }) } : {}),
    ...(opened === 'species'
      ? {
          ...numbered(SPECIES, become),
          ...numbered(kinds.slice(0, MOST_KEYS), becomeOther, SPECIES.length),
        }
      : {}),
    ...(opened === 'marks' ? numbered(MARKS, (mark) => marked(mark, !card.marks.has(mark))) : {}),
    ...(opened !== null ? { escape: () => open(null) } : {}),
  }
  useKeys(active, acts)
  return (
    <article
      class={`check-card ${active ? 'check-card-active' : ''} ${card.checked ? 'check-card-done' : ''}`}
      id={`card-${card.key}`}
      tabIndex={-1}
      aria-labelledby={`sentence-${card.key}`}
      // When it is touched, not when the tap is over: by then an agreed card has handed on to the next.
      onPointerDown={activate}
      onFocusIn={activate}
    >
      <header>
        <h2 id={`sentence-${card.key}`}>{cardSentence(card)}</h2>
        <CardTags card={card} />
      </header>
      <a
        class="card-photo"
        href={`/photos/${shown.id}`}
        onClick={() => rememberList(card.stills.map((still) => still.id))}
        aria-label={words.openPhoto(clockOf(shown.takenAt))}
      >
        <Photo still={shown} size="small" drawn={shown.word?.boxes ?? []} eager={near} />
      </a>
      <p class="shown-line">
        {standsLine(shown)}
        {card.stills.length > 1 && ` (${words.ofPhotos(card.stills.indexOf(shown) + 1, card.stills.length)})`}
      </p>
      <div class="card-buttons">
        <KeyButton act={acts.a} letter="A" icon="tick" words={words.agree} strong />
        {/* The species stands on the buttons, so that nobody wonders which number they move. */}
        <KeyButton act={acts['-']} letter="−" icon="minus" words={words.fewer(counting)} />
        <KeyButton act={acts['+']} letter="+" icon="plus" words={words.more(counting)} />
        <KeyButton
          act={acts.s}
          letter="S"
          icon="swap"
          words={words.species}
          expanded={opened === 'species'}
        />
        <KeyButton act={acts.n} letter="N" icon="none" words={words.nothing} />
      </div>
      {species.length > 1 && (
        <fieldset class="counting">
          <legend>{words.counting}</legend>
          {species.map((name) => (
            <button
              type="button"
              class="button"
              aria-pressed={name === counting}
              onClick={() => setPicked(name)}
              key={name}
            >
              {speciesName(name)}
            </button>
          ))}
        </fieldset>
      )}
      {opened === 'species' && (
        <SpeciesChoice
          become={become}
          kinds={kinds}
          becomeOther={becomeOther}
          nothing={() => say({ kind: 'nothing there' })}
          keep={() => open(null)}
        />
      )}
      {card.stills.length > 1 && <CardStrip card={card} shownId={shown.id} show={setShownId} />}
      <button
        type="button"
        class="button button-bare more-to-say"
        aria-expanded={opened === 'marks'}
        onClick={() => turn('marks')}
      >
        <Icon name={opened === 'marks' ? 'up' : 'down'} />
        {words.moreToSay} <kbd>M</kbd>
      </button>
      {opened === 'marks' && <Marks marks={card.marks} marked={marked} photos={card.stills.length} />}
    </article>
  )
}

/** The keys 1, 2, 3 and so on, or those after so many, each for one of a list. */
function numbered<T>(list: readonly T[], act: (one: T) => void, after = 0): Acts {
  return Object.fromEntries(list.map((one, index) => [String(after + index + 1), () => act(one)]))
}
