/** Said wherever the manager looks first: the disk of the photos gets full, or takes none any more. */
import type { Room } from '../../services/http/shapes.ts'
import { keepingWords, roomWords } from '../text/keeping.ts'
import { Icon } from './icon.tsx'

export function RoomNotice({ room }: { readonly room: Room }) {
  const words = roomWords(room)
  if (words === null) return null
  return (
    <div
      class={`notice ${room === 'full' ? 'notice-failed' : ''}`}
      role={room === 'full' ? 'alert' : 'status'}
    >
      <Icon name="alarm" />
      <div>
        <p class="notice-what">{words.what}</p>
        <p>{words.remedy}</p>
        <a class="button" href="/setup#keeping">
          {keepingWords.toKeeping}
        </a>
      </div>
    </div>
  )
}
