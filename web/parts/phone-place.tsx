/** The place of the phone in hand, for a homestead or a point one stands at. */
import { useState } from 'preact/hooks'
import { setupWords } from '../text/setup.ts'
import { Icon } from './icon.tsx'

const words = setupWords.place
const PLACE_TIMEOUT_MS = 15_000

interface PhonePlaceProps {
  readonly found: (place: { readonly lat: string; readonly lon: string }) => void
}

/** Four decimals of a degree are about ten metres: as near as a phone can tell. */
const PLACE_DECIMALS = 4

/** Offered where the browser gives places at all (a secure address or this machine itself). */
export function PhonePlace({ found }: PhonePlaceProps) {
  const [state, setState] = useState<'idle' | 'finding' | 'failed'>('idle')
  if (!('geolocation' in navigator) || !isSecureContext) return null
  const find = () => {
    setState('finding')
    navigator.geolocation.getCurrentPosition(
      ({ coords }) => {
        setState('idle')
        found({ lat: coords.latitude.toFixed(PLACE_DECIMALS), lon: coords.longitude.toFixed(PLACE_DECIMALS) })
      },
      () => setState('failed'),
      { enableHighAccuracy: true, timeout: PLACE_TIMEOUT_MS },
    )
  }
  return (
    <div>
      <button type="button" class="button" onClick={find} disabled={state === 'finding'}>
        <Icon name="place" />
        {state === 'finding' ? words.finding : words.here}
      </button>
      <p class="hint" role="status">
        {state === 'failed' ? words.hereFailed : ''}
      </p>
    </div>
  )
}
