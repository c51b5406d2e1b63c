/** What others change while this page is open: one stream for the whole view, open while somebody looks. */
import { useEffect, useRef } from 'preact/hooks'
import { useOutside } from '../parts/outside.ts'
import { sendWordsNow } from './words-out.ts'
import { sendYardNow } from './yard-out.ts'

/** Each null: something changed, and it is not known what. */
export interface Change {
  readonly stillIds: readonly number[] | null
  readonly pointIds: readonly number[] | null
  readonly nights: readonly string[] | null
  /** The last word written with it. */
  readonly checkId: number | null
}

const UNKNOWN: Change = { stillIds: null, pointIds: null, nights: null, checkId: null }
/** A stream that is refused is not tried again by the browser itself. */
const TRY_AGAIN_MS = 30_000

/** A person who checks speaks every second or so; a screen of sums need not follow each word. */
const TOGETHER_MS = 2_000

const hearers = new Set<(change: Change) => void>()
const watchers = new Set<() => void>()
let stream: EventSource | null = null
let again: ReturnType<typeof setTimeout> | null = null
let up = true
let wasUp = false

/** True unless the link to the service is known to be gone. */
const isUp = () => up && navigator.onLine

function setUp(now: boolean): void {
  up = now
  for (const watcher of watchers) watcher()
}

function openStream(): void {
  if (stream !== null || hearers.size === 0 || document.visibilityState !== 'visible') return
  if (again !== null) clearTimeout(again)
  const fresh = new EventSource('/api/events')
  stream = fresh
  fresh.addEventListener('open', () => {
    setUp(true)
    sendWordsNow()
    sendYardNow()
    // What was said while nobody listened here.
    if (wasUp) tellHearers(UNKNOWN)
    wasUp = true
  })
  fresh.addEventListener('changed', (event) => tellHearers({ ...UNKNOWN, ...JSON.parse(event.data) }))
  fresh.addEventListener('error', () => {
    setUp(false)
    if (fresh.readyState !== EventSource.CLOSED) return
    closeStream()
    again = setTimeout(openStream, TRY_AGAIN_MS)
  })
}

/** A phone in a pocket costs the link nothing, and a browser has but few connections to one address. */
function closeStream(): void {
  stream?.close()
  stream = null
}

function tellHearers(change: Change): void {
  for (const hearer of hearers) hearer(change)
}

document.addEventListener('visibilitychange', () => {
  if (document.visibilityState === 'visible') openStream()
  else closeStream()
})
addEventListener('online', () => {
  setUp(true)
  closeStream()
  openStream()
})
addEventListener('offline', () => setUp(false))

/** Calls `act` with each change while the screen is shown. */
export function useChanges(act: (change: Change) => void): void {
  const latest = useRef(act)
  latest.current = act
  useEffect(() => {
    const hearer = (change: Change) => latest.current(change)
    hearers.add(hearer)
    openStream()
    return () => {
      hearers.delete(hearer)
      if (hearers.size === 0) closeStream()
    }
  }, [])
}

/** Asks again, soon, after changes that concern the screen: once for many that come together. */
export function useReloadOnChange(
  reload: () => void,
  concerns: (change: Change) => boolean = () => true,
): void {
  const timer = useRef<ReturnType<typeof setTimeout> | null>(null)
  useChanges((change) => {
    if (timer.current !== null || !concerns(change)) return
    timer.current = setTimeout(() => {
      timer.current = null
      reload()
    }, TOGETHER_MS)
  })
  useEffect(
    () => () => {
      if (timer.current !== null) clearTimeout(timer.current)
    },
    [],
  )
}

function watch(watcher: () => void): () => void {
  watchers.add(watcher)
  return () => watchers.delete(watcher)
}

/** False while the link to the service is known to be gone. */
export function useLink(): boolean {
  return useOutside(watch, isUp)
}
