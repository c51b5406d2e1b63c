/** One point of a target list: what to expect and when, how to get there, what else is there, what to bring, its latest photo. */
import type { TargetLine, TargetListAnswer } from '../../../services/http/program-shapes.ts'
import { withQuery } from '../../api/questions.ts'
import { Icon } from '../../parts/icon.tsx'
import { programWords as words } from '../../text/programs.ts'
import {
  accessWords,
  bringWords,
  groupWords,
  headWords,
  hoursWords,
  lastNightsWords,
  lastSeenWords,
  legWords,
  nightsWords,
  othersWords,
  rankWords,
} from '../../text/target-list.ts'
import { dayAndClock } from '../../text/times.ts'
import { PointChanges } from './point-changes.tsx'
import { moverId, type Step } from './target-lines.tsx'
import type { SayEdit } from './target-list.tsx'

interface TargetPointProps {
  readonly line: TargetLine
  /** From 0. */
  readonly place: number
  readonly of: number
  readonly list: TargetListAnswer
  /** The order shown is not the one kept: kilometres between the points are not those of the round. */
  readonly moved: boolean
  readonly move: ((by: Step) => void) | null
  readonly say: SayEdit | null
  readonly reload: () => void
}

export function TargetPoint({ line, place, of, list, moved, move, say, reload }: TargetPointProps) {
  const photos = withQuery('/photos', {
    point: line.pointId,
    species: list.program.species,
    from: list.nights.from,
    to: list.nights.to,
  })
  return (
    <li
      class="target-point"
      onKeyDown={(event) => {
        const by = event.key === 'ArrowUp' ? -1 : event.key === 'ArrowDown' ? 1 : null
        if (!event.altKey || by === null || move === null) return
        event.preventDefault()
        move(by)
      }}
    >
      <div class="target-head">
        <span class="target-place">{place + 1}</span>
        <h3>
          <a href={`/points/${line.pointId}`}>{line.name}</a>
          <small>
            {[line.kind, rankWords(line), moved ? '' : legWords(list.round, place)]
              .filter(Boolean)
              .join('; ')}
          </small>
        </h3>
        {move !== null && <Movers line={line} place={place} of={of} move={move} />}
      </div>
      <div class="target-body">
        <LatestPhoto line={line} />
        <dl class="about">
          <dt>{words.expect}</dt>
          <dd>
            <strong>{headWords(line)}</strong>
            {line.largestGroup > 0 && `; ${groupWords(line)}`}
          </dd>
          <dt>{words.when}</dt>
          <dd>
            <p>
              {line.nightsSeen === 0 ? nightsWords(line) : <a href={photos}>{nightsWords(line)}</a>}
              {lastNightsWords(line) !== null && `; ${lastNightsWords(line)}`}
            </p>
            {line.nightsSeen > 0 && <p>{hoursWords(line)}</p>}
            <p>{lastSeenWords(line, list.now)}</p>
          </dd>
          {othersWords(line) !== null && (
            <>
              <dt>{words.also}</dt>
              <dd>{othersWords(line)}</dd>
            </>
          )}
          {bringWords(line) !== null && (
            <>
              <dt>{words.bring}</dt>
              <dd>{bringWords(line)}</dd>
            </>
          )}
          <dt>{words.gettingThere}</dt>
          <dd>
            {accessWords(line).length === 0 && words.noAccess}
            {accessWords(line).map((said) => (
              <p key={said}>{said}</p>
            ))}
          </dd>
          {line.note !== null && (
            <>
              <dt>{words.note}</dt>
              <dd>
                <strong>{line.note}</strong>
              </dd>
            </>
          )}
        </dl>
      </div>
      {say !== null && <PointChanges line={line} say={say} reload={reload} />}
    </li>
  )
}

interface MoversProps extends Pick<TargetPointProps, 'line' | 'place' | 'of'> {
  readonly move: (by: Step) => void
}

function Movers({ line, place, of, move }: MoversProps) {
  return (
    <div class="target-movers">
      {([-1, 1] as const).map((by) => (
        <button
          type="button"
          class="button button-square"
          id={moverId(line.pointId, by)}
          aria-label={(by < 0 ? words.up : words.down)(line.name)}
          disabled={by < 0 ? place === 0 : place === of - 1}
          onClick={() => move(by)}
          key={by}
        >
          <Icon name={by < 0 ? 'up' : 'down'} />
        </button>
      ))}
    </div>
  )
}

function LatestPhoto({ line }: { readonly line: TargetLine }) {
  if (line.photo === null) return <p class="target-no-photo">{words.noPhoto}</p>
  return (
    <a class="target-photo" href={`/photos/${line.photo.stillId}`}>
      <img
        src={line.photo.smallUrl}
        alt={words.latestPhoto(line.name)}
        loading="lazy"
        width="320"
        height="180"
      />
      <small>{dayAndClock(line.photo.takenAt)}</small>
    </a>
  )
}
