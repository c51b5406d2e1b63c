/** The station: its name, its zone, its homestead, and the two spans its counting rests on. */
import { useState } from 'preact/hooks'
import type { Station } from '../../../services/http/shapes.ts'
import { tell } from '../../api/ask.ts'
import { Field, typedNumber } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { useForm } from '../../parts/use-form.ts'
import { setupWords } from '../../text/setup.ts'
import { PhonePlace } from './phone-place.tsx'

const words = setupWords.station
const FIELDS = ['name', 'zone', 'lat', 'lon', 'visitGapMinutes', 'cattleAwayHours'] as const

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
