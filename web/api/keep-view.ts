/** Has the browser keep the view and its photos, where it can: on this machine itself, or over https. */

/** What the service worker keeps of what a page fetched before it was in the way. */
const PHOTO = /\/api\/stills\/\d+\/small$/

export function keepView(): void {
  // In plain http on a station's own network browsers have none: there the view asks for everything anew.
  if (!('serviceWorker' in navigator)) return
  // Without it the view does all it does, but for opening with the link gone.
  void register().catch(() => undefined)
}

async function register(): Promise<void> {
  await navigator.serviceWorker.register('/service-worker.js')
  const { active } = await navigator.serviceWorker.ready
  active?.postMessage(
    performance
      .getEntriesByType('resource')
      .map(({ name }) => new URL(name).pathname)
      .filter((path) => PHOTO.test(path)),
  )
}
