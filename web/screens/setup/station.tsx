/** The station: its name, its zone, its homestead, and the two spans its counting rests on. */
import { useState } from 'preact/hooks'
import type { Station } from '../../../services/http/shapes.ts'
import { tell } from '../../api/ask.ts'
import { Field, typedNumber } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { Icon } from '../../parts/icon.tsx'
import { useForm } from '../../parts/use-form.ts'
import { setupWords } from '../../text/setup.ts'

const words = setupWords.station
const FIELDS = ['name', 'zone', 'lat', 'lon', 'visitGapMinutes', 'cattleAwayHours'] as const
const PLACE_TIMEOUT_MS = 15_000

interface StationFormProps {
  readonly station: Station | null
  readonly saved: () => void
}

/** The body of PUT /api/station for a station as it is; roles and thresholds go along unchanged. */
export function stationBody(station: Station) {
  const { name, zone, homestead, visitGapMinutes, cattleAwayHours, species } = station
  return { name, zone, homestead, visitGapMinutes, cattleAwayHours, species }
}

export function StationForm({ station, saved }: StationFormProps) {
  const form = useForm()
  const [name, setName] = useState(station?.name ?? '')
  const [zone, setZone] = useState(station?.zone ?? Intl.DateTimeFormat().resolvedOptions().timeZone)
  const [lat, setLat] = useState(station === null ? '' : String(station.homestead.lat))
  const [lon, setLon] = useState(station === null ? '' : String(station.homestead.lon))
  const [gap, setGap] = useState(String(station?.visitGapMinutes ?? 30))
  const [away, setAway] = useState(String(station?.cattleAwayHours ?? 72))
  const submit = async () => {
    await tell('PUT', '/api/station', {
      ...(station === null ? {} : stationBody(station)),
      name,
      zone,
      homestead: { lat: typedNumber(lat), lon: typedNumber(lon) },
      visitGapMinutes: typedNumber(gap),
      cattleAwayHours: typedNumber(away),
    })
    saved()
  }
  const { failure } = form
  return (
    <Form
      form={form}
      label={setupWords.parts.station}
      button={station === null ? words.saveFirst : setupWords.save}
      fields={FIELDS}
      submit={submit}
    >
      <Field label={words.name} name="name" value={name} change={setName} failure={failure} required />
      <Field
        label={words.zone}
        name="zone"
        value={zone}
        change={setZone}
        failure={failure}
        hint={words.zoneHint}
        choices={Intl.supportedValuesOf('timeZone')}
        required
      />
      <div class="field-pair">
        <Field
          label={words.lat}
          name="lat"
          value={lat}
          change={setLat}
          failure={failure}
          kind="degrees"
          hint={words.degreesHint}
          required
        />
        <Field
          label={words.lon}
          name="lon"
          value={lon}
          change={setLon}
          failure={failure}
          kind="degrees"
          required
        />
      </div>
      <PhonePlace
        found={(place) => {
          setLat(place.lat)
          setLon(place.lon)
        }}
      />
      <div class="field-pair">
        <Field
          label={words.gap}
          name="visitGapMinutes"
          value={gap}
          change={setGap}
          failure={failure}
          kind="number"
          hint={words.gapHint}
        />
        <Field
          label={words.away}
          name="cattleAwayHours"
          value={away}
          change={setAway}
          failure={failure}
          kind="number"
          hint={words.awayHint}
        />
      </div>
    </Form>
  )
}

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
