/** From photo to photo in the list one came from. */
import { useEffect } from 'preact/hooks'
import { useLocation } from 'preact-iso'
import { photoWords } from '../text/photo.ts'
import { Icon } from './icon.tsx'
import { isTyping } from './keys.ts'
import { neighboursOf } from './photo-list.ts'

/** Previous and next in the list the photo was opened from; left and right arrow keys do the same. */
export function Steps({ id }: { readonly id: number }) {
  const { route } = useLocation()
  const { previous, next } = neighboursOf(id)
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      if (isTyping(event) || event.defaultPrevented) return
      if (event.target instanceof HTMLElement && event.target.closest('.large-photo-zoomed')) return
      if (event.key === 'ArrowLeft' && previous !== null) route(`/photos/${previous}`, true)
      if (event.key === 'ArrowRight' && next !== null) route(`/photos/${next}`, true)
    }
    addEventListener('keydown', press)
    return () => removeEventListener('keydown', press)
  }, [previous, next, route])
  if (previous === null && next === null) return null
  return (
    <nav class="steps" aria-label={photoWords.steps}>
      <Step to={previous} words={photoWords.previous} icon="left" />
      <Step to={next} words={photoWords.next} icon="right" />
    </nav>
  )
}

interface StepProps {
  readonly to: number | null
  readonly words: string
  readonly icon: 'left' | 'right'
}

function Step({ to, words, icon }: StepProps) {
  if (to === null) {
    return (
      <span class="button button-square button-off" aria-hidden="true">
        <Icon name={icon} />
      </span>
    )
  }
  return (
    <a class="button button-square" href={`/photos/${to}`} aria-label={words}>
      <Icon name={icon} />
    </a>
  )
}
