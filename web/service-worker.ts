/**
 * Keeps the view, the photos that were shown and the last cards on this device, so that Photos to check and At the yard
 * open and go on with the link gone (W3C Service Workers). It stands alone: nothing is imported, because browsers run it by itself.
 * What tells of water, cattle or traps is never answered from here: an old answer there would look like all is well.
 */

interface KeepEvent extends Event {
  waitUntil(work: Promise<unknown>): void
}
interface AskEvent extends KeepEvent {
  readonly request: Request
  respondWith(answer: Promise<Response>): void
}
interface Scope {
  addEventListener(name: 'install' | 'activate', hear: (event: KeepEvent) => void): void
  addEventListener(name: 'fetch', hear: (event: AskEvent) => void): void
  addEventListener(name: 'message', hear: (event: KeepEvent & { readonly data: unknown }) => void): void
  skipWaiting(): Promise<void>
  readonly clients: { claim(): Promise<void> }
}

const scope = self as unknown as Scope

const VIEW = 'view-1'
const PHOTOS = 'photos-1'
const ANSWERS = 'answers-1'
/** An evening's photos, some 30 KB each. */
const MOST_PHOTOS = 600
const MOST_ANSWERS = 20
/** The view's parts of some versions. */
const MOST_PARTS = 40
/** On a link that brings nothing, what is kept is shown after so long. */
const PATIENCE_MS = 6_000

const NO_PAGE = /^\/(api|assets|metrics|shared)(\/|$)/
const PHOTO = /^\/api\/stills\/\d+\/small$/
const PART = /^\/(assets\/|mark\.svg$)/
const ANSWER = /^\/api\/(station|kinds|checks\/cards)$/

scope.addEventListener('install', (event) => {
  event.waitUntil(keepView().then(() => scope.skipWaiting()))
})
scope.addEventListener('activate', (event) => event.waitUntil(scope.clients.claim()))

scope.addEventListener('message', (event) => {
  // What the page fetched before this was in its way.
  const paths = Array.isArray(event.data) ? event.data.filter((path) => typeof path === 'string') : []
  event.waitUntil(
    Promise.all(
      paths.map((path) => (PHOTO.test(path) ? keptFirst(new Request(path), PHOTOS, MOST_PHOTOS) : null)),
    ),
  )
})

scope.addEventListener('fetch', (event) => {
  const { request } = event
  const url = new URL(request.url)
  if (request.method !== 'GET' || url.origin !== location.origin) return
  if (request.mode === 'navigate' && !NO_PAGE.test(url.pathname)) event.respondWith(page(request))
  else if (PART.test(url.pathname)) event.respondWith(keptFirst(request, VIEW, MOST_PARTS))
  else if (PHOTO.test(url.pathname)) event.respondWith(keptFirst(request, PHOTOS, MOST_PHOTOS))
  else if (ANSWER.test(url.pathname)) event.respondWith(freshFirst(request, ANSWERS))
})

/** The page and the parts that it names. */
async function keepView(): Promise<void> {
  const view = await caches.open(VIEW)
  const answer = await fetch('/', { cache: 'no-cache' })
  if (!answer.ok) throw new Error(`the page answered ${answer.status}`)
  const html = await answer.clone().text()
  await view.put('/', answer)
  const parts = [...html.matchAll(/(?:src|href)="(\/(?:assets\/|mark\.svg)[^"]*)"/g)].map(([, path]) => path!)
  await Promise.all(parts.map((path) => keptFirst(new Request(path), VIEW, MOST_PARTS)))
}

/** Every address of the view is the one page. */
async function page(request: Request): Promise<Response> {
  const view = await caches.open(VIEW)
  try {
    const answer = await withPatience(fetch(request))
    if (answer.ok) await view.put('/', answer.clone())
    return answer
  } catch (fault) {
    const kept = await view.match('/')
    if (kept === undefined) throw fault
    return kept
  }
}

/** For what never changes under its address. */
async function keptFirst(request: Request, name: string, most: number): Promise<Response> {
  const cache = await caches.open(name)
  const kept = await cache.match(request)
  if (kept !== undefined) return kept
  const answer = await fetch(request)
  // A photo that is not read yet is shown under an address that will show another picture.
  if (answer.ok && !/no-cache|no-store/.test(answer.headers.get('cache-control') ?? '')) {
    await put(cache, request, answer.clone(), most)
  }
  return answer
}

async function freshFirst(request: Request, name: string): Promise<Response> {
  const cache = await caches.open(name)
  const kept = await cache.match(request)
  try {
    const answer = await (kept === undefined ? fetch(request) : withPatience(fetch(request)))
    if (answer.ok) await put(cache, request, answer.clone(), MOST_ANSWERS)
    return answer
  } catch (fault) {
    if (kept === undefined) throw fault
    return kept
  }
}

/** A full device keeps less, and shows everything all the same. */
async function put(cache: Cache, request: Request, answer: Response, most: number): Promise<void> {
  try {
    await cache.delete(request)
    await cache.put(request, answer)
    const keys = await cache.keys()
    await Promise.all(keys.slice(0, Math.max(0, keys.length - most)).map((key) => cache.delete(key)))
  } catch {
    // Nothing more can be done, and nothing is lost but the copy.
  }
}

function withPatience(answer: Promise<Response>): Promise<Response> {
  return new Promise((resolve, reject) => {
    const timer = setTimeout(() => reject(new Error(`no answer in ${PATIENCE_MS} ms`)), PATIENCE_MS)
    answer.then(resolve, reject).finally(() => clearTimeout(timer))
  })
}

// A module by itself, whatever it imports.
export {}
