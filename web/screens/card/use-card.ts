/** A card on its way in, as its screen sees it. */
import { useEffect, useRef, useState } from 'preact/hooks'
import type { Camera } from '../../../services/http/shapes.ts'
import { browserPost } from './browser-post.ts'
import { type CardFile, type SortedOut, sortOut } from './card-files.ts'
import { type CardProgress, sendCard, startOfCard } from './send-card.ts'
import { keepUnfinished } from './unfinished.ts'

export type CardState =
  | { readonly kind: 'none' }
  | { readonly kind: 'looking' }
  | { readonly kind: 'nothing'; readonly sorted: SortedOut }
  | { readonly kind: 'sending' | 'over'; readonly sorted: SortedOut; readonly progress: CardProgress }

export interface CardInHand {
  readonly state: CardState
  /** Takes the files of `camera`; once they are there. */
  readonly put: (camera: Camera, files: Promise<readonly CardFile[]>) => void
  /** The same photos again, or those named: what is in already is not sent. */
  readonly again: (paths?: readonly string[]) => void
  readonly stop: () => void
  readonly clear: () => void
}

export function useCard(): CardInHand {
  const [state, setState] = useState<CardState>({ kind: 'none' })
  const stopping = useRef(new AbortController())
  const camera = useRef<Camera | null>(null)
  const isSending = state.kind === 'sending'

  useEffect(() => {
    if (!isSending) return
    const ask = (event: BeforeUnloadEvent) => event.preventDefault()
    addEventListener('beforeunload', ask)
    return () => removeEventListener('beforeunload', ask)
  }, [isSending])
  // Gone to another screen: what is not in stays on the card.
  useEffect(() => () => stopping.current.abort(), [])

  async function send(sorted: SortedOut): Promise<void> {
    const { photos } = sorted
    const of = camera.current
    if (of === null) return
    stopping.current.abort()
    stopping.current = new AbortController()
    const { signal } = stopping.current
    setState({ kind: 'sending', sorted, progress: startOfCard(photos.length) })
    const keep = ({ done, total }: CardProgress) =>
      keepUnfinished({ cameraId: of.id, camera: of.name, folder: folderOf(photos), done, total })
    const told = (progress: CardProgress) => {
      if (signal.aborted) return
      keep(progress)
      setState({ kind: 'sending', sorted, progress })
    }
    const progress = await sendCard(photos, browserPost(of.id), { told, signal })
    if (progress.done === progress.total) keepUnfinished(null)
    else keep(progress)
    setState({ kind: 'over', sorted, progress })
  }

  return {
    state,
    put(of, files) {
      camera.current = of
      setState({ kind: 'looking' })
      void files.then(sortOut).then((sorted) => {
        if (sorted.photos.length === 0) setState({ kind: 'nothing', sorted })
        else void send(sorted)
      })
    },
    again(paths) {
      if (state.kind !== 'over') return
      const { sorted } = state
      const photos = sorted.photos.filter(({ path }) => paths?.includes(path) ?? true)
      void send({ ...sorted, photos })
    },
    stop: () => stopping.current.abort(),
    clear() {
      stopping.current.abort()
      setState({ kind: 'none' })
    },
  }
}

/** `DCIM` of `DCIM/100/a.jpg`; of single photos the first's name. */
function folderOf([first]: readonly CardFile[]): string {
  return first?.path.split('/')[0] ?? ''
}
