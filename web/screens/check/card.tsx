/** One card of Photos to check: the best photo large, the sentence, the others in a strip, and big buttons. */
import { useState } from 'preact/hooks'
import type { CheckCard } from '../../../services/http/shapes.ts'
import type { CardWord } from '../../../services/tally/cards.ts'
import { SPECIES, type Species } from '../../../services/words.ts'
import { Icon } from '../../parts/icon.tsx'
import { Photo } from '../../parts/photo.tsx'
import { rememberList } from '../../parts/photo-list.ts'
import { cardSentence, checkWordsOnScreen as words } from '../../text/check.ts'
import { plural, speciesMany, speciesName, tallyWords } from '../../text/counts.ts'
import { clockOf } from '../../text/times.ts'
import { countedSpecies } from './desk.ts'
import { KeyButton, useKeys } from './key-button.tsx'

interface CheckCardProps {
  readonly card: CheckCard
  readonly feral: ReadonlySet<Species>
  /** The card that single keys act on. */
  readonly active: boolean
  readonly choosing: boolean
  readonly setChoosing: (open: boolean) => void
  readonly activate: () => void
  readonly said: (said: { shownId: number; word: CardWord }) => void
}

export function CheckCardView(props: CheckCardProps) {
  const { card, feral, active, choosing, setChoosing, activate } = props
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
  const acts: Readonly<Record<string, () => void>> = {
    a: () => say({ kind: 'agree' }),
    n: () => say({ kind: 'nothing there' }),
    s: () => setChoosing(!choosing),
    ...(counting !== null && head > 0
      ? { '-': () => say({ kind: 'count', species: counting, head: head - 1 }) }
      : {}),
    ...(counting !== null ? { '+': () => say({ kind: 'count', species: counting, head: head + 1 }) } : {}),
    ...(choosing
      ? Object.fromEntries(SPECIES.map((to, index) => [String(index + 1), () => become(to)]))
      : {}),
    ...(choosing ? { escape: () => setChoosing(false) } : {}),
  }
  useKeys(active, acts)
  const sentence = cardSentence(card)
  return (
    // biome-ignore lint/a11y/useKeyWithClickEvents: touching a card makes it the one the keys act on; keys have J and K
    <article
      class={`check-card ${active ? 'check-card-active' : ''} ${card.checked ? 'check-card-done' : ''}`}
      id={`card-${card.key}`}
      tabIndex={-1}
      aria-labelledby={`sentence-${card.key}`}
      onClick={activate}
      onFocusIn={activate}
    >
      <header>
        <h2 id={`sentence-${card.key}`}>{sentence}</h2>
        <p class="card-tags">
          <span class={`tag tag-${card.why}`}>{words.why[card.why]}</span>
          {card.checked && (
            <span class="tag tag-done">
              <Icon name="tick" />
              {words.seen}
            </span>
          )}
        </p>
      </header>
      <a
        class="card-photo"
        href={`/photos/${shown.id}`}
        onClick={() => rememberList(card.stills.map((still) => still.id))}
        aria-label={words.openPhoto(clockOf(shown.takenAt))}
      >
        <Photo still={shown} size="small" />
      </a>
      <p class="shown-line">
        {clockOf(shown.takenAt)}: {tallyWords(shown.tally)}
        {card.stills.length > 1 && ` (${words.ofPhotos(card.stills.indexOf(shown) + 1, card.stills.length)})`}
      </p>
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
      <div class="card-buttons">
        <KeyButton act={acts.a} letter="A" icon="tick" words={words.agree} strong />
        <KeyButton act={acts['-']} letter="−" icon="minus" words={withSpecies(words.fewer, counting)} />
        <KeyButton act={acts['+']} letter="+" icon="plus" words={withSpecies(words.more, counting)} />
        <KeyButton act={acts.s} letter="S" icon="swap" words={words.species} expanded={choosing} />
        <KeyButton act={acts.n} letter="N" icon="none" words={words.nothing} />
      </div>
      {choosing && (
        <fieldset class="species-choice">
          <legend>{words.isA}</legend>
          {SPECIES.map((to, index) => (
            <button type="button" class="button" onClick={() => become(to)} key={to}>
              {speciesMany(to)} <kbd>{index + 1}</kbd>
            </button>
          ))}
          <button type="button" class="button" onClick={() => say({ kind: 'nothing there' })}>
            {words.nothing} <kbd>N</kbd>
          </button>
          <button type="button" class="button" onClick={() => setChoosing(false)}>
            {words.keep} <kbd>Esc</kbd>
          </button>
        </fieldset>
      )}
      {card.stills.length > 1 && (
        <ul class="card-strip" aria-label={plural(card.stills.length, 'photo')}>
          {card.stills.map((still) => (
            <li key={still.id}>
              <button
                type="button"
                class="strip-photo"
                aria-pressed={still.id === shown.id}
                aria-label={`${clockOf(still.takenAt)}: ${tallyWords(still.tally)}`}
                onClick={() => setShownId(still.id)}
              >
                <Photo still={still} size="small" labels={false} />
                <span>{clockOf(still.takenAt)}</span>
              </button>
            </li>
          ))}
        </ul>
      )}
    </article>
  )
}

/** `One camel fewer`, so that nobody wonders which number the button moves. */
function withSpecies(sentence: (species: string) => string, species: Species | null): string {
  return sentence(species ?? '').replace('  ', ' ')
}
