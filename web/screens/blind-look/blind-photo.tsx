/** A photo as it was taken: no boxes, no words on what is in it. */
import type { OpenLook } from '../../../services/http/audit-shapes.ts'
import { Icon } from '../../parts/icon.tsx'
import { blindLookWords as words } from '../../text/blind-look.ts'
import { clockOf } from '../../text/times.ts'

export function BlindPhoto({ photo }: { readonly photo: OpenLook['photos'][number] }) {
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

/** All photos of a look, small: whoever says that nothing is in any of them must have seen each. */
export function AllPhotos({ photos }: { readonly photos: OpenLook['photos'] }) {
  return (
    <ol class="blind-strip" aria-label={words.allPhotos}>
      {photos.map(({ id, takenAt, smallUrl, kept }) => (
        <li key={id}>
          {kept !== 'none' && <img src={smallUrl} alt={words.alt} />}
          <span>{clockOf(takenAt)}</span>
        </li>
      ))}
    </ol>
  )
}
