/** The night shown, with a way to the nights before and after it. */
import { nightAfter, nightName } from '../text/times.ts'
import { waterRunWords } from '../text/water-run.ts'
import { Icon } from './icon.tsx'

interface NightPickerProps {
  readonly night: string
  /** False on the latest night: there is nothing after it. */
  readonly hasLater: boolean
  readonly href: (night: string) => string
  readonly note?: string
}

export function NightPicker({ night, hasLater, href, note }: NightPickerProps) {
  return (
    <nav class="night-picker" aria-label="Night">
      <a class="button button-square" href={href(nightAfter(night, -1))} aria-label={waterRunWords.earlier}>
        <Icon name="left" />
      </a>
      <p>
        <strong>{nightName(night)}</strong>
        {note !== undefined && <small>{note}</small>}
      </p>
      {hasLater ? (
        <a class="button button-square" href={href(nightAfter(night, 1))} aria-label={waterRunWords.later}>
          <Icon name="right" />
        </a>
      ) : (
        <span class="button button-square button-off" aria-hidden="true">
          <Icon name="right" />
        </span>
      )}
    </nav>
  )
}
