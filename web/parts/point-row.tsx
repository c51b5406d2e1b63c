/** One point of the water run: what its camera, its cattle, its night and its water say. */
import { useId, useState } from 'preact/hooks'
import type { WaterRunRow } from '../../services/http/shapes.ts'
import { withQuery } from '../api/questions.ts'
import { camerasWords } from '../text/cameras.ts'
import { cannotSeeWords } from '../text/cannot-see.ts'
import { alarmWords, hangingWords } from '../text/cattle.ts'
import { plural } from '../text/counts.ts'
import { age } from '../text/times.ts'
import { trapFact } from '../text/traps.ts'
import {
  batteryFact,
  cameraFact,
  cattleFact,
  feralWords,
  notFetchedFact,
  watchedWords,
  waterFact,
  waterRunWords,
} from '../text/water-run.ts'
import { FactChip } from './fact.tsx'
import { Icon } from './icon.tsx'
import { WATER_ICONS, WaterButtons } from './water-buttons.tsx'

interface PointRowProps {
  readonly row: WaterRunRow
  readonly now: string
  readonly night: string
  readonly said: (words: string) => void
}

export function PointRow({ row, now, night, said }: PointRowProps) {
  const [open, setOpen] = useState(false)
  const buttonsId = useId()
  const { point, lastPhoto, water } = row
  const fact = waterFact(water, now)
  return (
    <li class="point-row" id={`point-${point.id}`}>
      <div class="point-photo">
        {lastPhoto === null ? (
          <div class="photo photo-none">{waterRunWords.noPhoto}</div>
        ) : (
          <img src={lastPhoto.smallUrl} alt="" width="16" height="9" loading="lazy" decoding="async" />
        )}
        {lastPhoto !== null && <span class="photo-age">{age(lastPhoto.takenAt, now)}</span>}
      </div>
      <div class="point-words">
        <h3>
          <a class="point-link" href={`/points/${point.id}`}>
            {point.name}
          </a>
        </h3>
        <div class="facts">
          <FactChip fact={cameraFact(row, now)} icon={row.camera === 'watching' ? 'camera' : 'cameraDown'} />
          <FactChip
            fact={cattleFact(row.cattle, now)}
            icon="cattle"
            {...(row.cattle.stillId === null ? {} : { href: `/photos/${row.cattle.stillId}` })}
          />
        </div>
      </div>
      <div class="facts point-more">
        <NightFacts row={row} now={now} night={night} />
      </div>
      <button
        type="button"
        class={`fact fact-${fact.tone} water-chip`}
        aria-expanded={open}
        aria-controls={buttonsId}
        onClick={() => setOpen(!open)}
      >
        <Icon name={WATER_ICONS[water.state]} />
        <span>{fact.words}</span>
        <Icon name={open ? 'up' : 'down'} />
      </button>
      <div id={buttonsId} class="water-drawer" hidden={!open}>
        {open && (
          <WaterButtons
            pointId={point.id}
            pointName={point.name}
            state={water.state}
            said={(words) => {
              setOpen(false)
              said(words)
            }}
          />
        )}
      </div>
    </li>
  )
}

/** What the night brought, and what asks for a look. */
function NightFacts({ row, now, night }: Omit<PointRowProps, 'said'>) {
  const { point, trap } = row
  const watched = watchedWords(row.watched)
  const photos = (filters: Record<string, string | number>) =>
    withQuery('/photos', { point: point.id, ...filters })
  const why = alarmWords(row.cattle, { kind: point.kind, now })
  const hanging = hangingWords(row.cattle)
  return (
    <>
      {why !== null && <p class="small alarm-why">{why}</p>}
      {hanging !== null && (
        <FactChip fact={{ tone: 'alarm', words: hanging }} icon="cattle" href={`/points/${point.id}`} />
      )}
      {row.feral.map((seen) => (
        <FactChip
          fact={{ tone: 'look', words: feralWords(seen) }}
          icon="hoof"
          href={photos({ night, species: seen.species })}
          key={seen.species}
        />
      ))}
      {row.toCheck > 0 && (
        <FactChip
          fact={{ tone: 'plain', words: `${row.toCheck} to check` }}
          icon="check"
          href={withQuery('/check', { night })}
        />
      )}
      {trap !== null && (trap.dueBy !== null || trap.state === 'open') && (
        <FactChip fact={trapFact(trap, now)} icon="trap" />
      )}
      {row.cannotSee.length > 0 && row.camera !== 'cannot see' && (
        <FactChip
          fact={{ tone: 'alarm', words: cannotSeeWords(row.cannotSee) }}
          icon="cameraDown"
          href="/cameras"
        />
      )}
      {watched !== null && <FactChip fact={{ tone: 'unknown', words: watched }} icon="eye" />}
      {row.batteries.map((battery) => (
        <FactChip fact={batteryFact(battery)} icon="battery" href="/setup#cameras" key={battery.cameraName} />
      ))}
      {row.notFetched.map((camera) => (
        <FactChip
          fact={notFetchedFact(camera)}
          icon="broken"
          href="/setup#cameras"
          key={`${camera.cameraName} ${camera.reason}`}
        />
      ))}
      {row.unreadable > 0 && (
        <FactChip
          fact={{
            tone: row.unreadableRise ? 'alarm' : 'look',
            words: `${plural(row.unreadable, 'file')} could not be read${row.unreadableRise ? `, ${camerasWords.rise}` : ''}`,
          }}
          icon="broken"
          href={photos({ state: 'unreadable' })}
        />
      )}
      {row.clockInDoubt > 0 && (
        <FactChip
          fact={{ tone: 'look', words: `Clock in doubt on ${plural(row.clockInDoubt, 'photo')}` }}
          icon="clock"
          href={photos({ doubtful: 'yes' })}
        />
      )}
    </>
  )
}
