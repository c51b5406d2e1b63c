/** Photos behind a number: whatever the address asks for, latest first, a page at a time. */
import { useRoute } from 'preact-iso'
import type { Still } from '../../services/http/shapes.ts'
import { SPECIES } from '../../services/words.ts'
import { stillsQuestion } from '../api/questions.ts'
import { BoxSwitch } from '../parts/box-switch.tsx'
import { EmptyNotice, Skeleton } from '../parts/notice.tsx'
import { More, usePages } from '../parts/pages.tsx'
import { PhotoGrid } from '../parts/photo-grid.tsx'
import { Screen } from '../parts/screen.tsx'
import { LEAST_NUMBER, speciesMany } from '../text/counts.ts'
import { photoWords } from '../text/photo.ts'
import { pointWords } from '../text/point.ts'
import { dayName, nightAfter, nightName } from '../text/times.ts'

const FILTERS = ['point', 'camera', 'night', 'from', 'to', 'visit', 'species', 'state', 'doubtful'] as const

export function PhotosScreen() {
  const { query } = useRoute()
  const filters = Object.fromEntries(FILTERS.map((name) => [name, query[name]]))
  const paged = usePages(
    JSON.stringify(filters),
    (cursor) => stillsQuestion({ ...filters, cursor }),
    (page) => page.stills,
  )
  const point = filters.point
  return (
    <Screen
      title={photosTitle(filters, paged.items)}
      kind="photos"
      aside={<BoxSwitch />}
      {...(point === undefined ? {} : { back: { href: `/points/${point}`, words: pointName(paged.items) } })}
    >
      {paged.items === null && paged.failure === null && <Skeleton shape="photo" count={6} />}
      {paged.items !== null && paged.items.length === 0 && <EmptyNotice words={photoWords.empty} />}
      {paged.items !== null && <PhotoGrid stills={paged.items} named={point === undefined} />}
      <More paged={paged} />
      <p class="honesty">{LEAST_NUMBER}</p>
    </Screen>
  )
}

function pointName(stills: readonly Still[] | null): string {
  return stills?.[0]?.pointName ?? pointWords.back
}

/** `Photos with camels, Kite Bore, Tue 24 to Wed 25 Nov` */
function photosTitle(
  filters: Readonly<Record<string, string | undefined>>,
  stills: readonly Still[] | null,
): string {
  const species = SPECIES.find((name) => name === filters.species)
  const words: string[] = [
    species === undefined ? photoWords.list : `${photoWords.list} with ${speciesMany(species)}`,
  ]
  if (filters.state === 'unreadable') words[0] = photoWords.listUnreadable
  if (filters.doubtful === 'yes') words[0] = photoWords.listDoubtful
  if (filters.point !== undefined && stills?.[0]) words.push(stills[0].pointName)
  if (filters.camera !== undefined && stills?.[0]) words.push(stills[0].cameraName)
  if (filters.night !== undefined) words.push(nightName(filters.night))
  if (filters.from !== undefined && filters.to !== undefined)
    words.push(photoWords.nights(dayName(filters.from), dayName(nightAfter(filters.to, 1))))
  if (filters.visit !== undefined) words.push(photoWords.oneVisit)
  return words.join(', ')
}
