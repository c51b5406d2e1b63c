/** The station: its name, its zone, its homestead, and the two spans its counting rests on. */
import type { Station } from '../../../services/http/shapes.ts'
import { tell } from '../../api/ask.ts'
import { Field, typedNumber } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { PlaceFields } from '../../parts/place-fields.tsx'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { setupWords } from '../../text/setup.ts'

const words = setupWords.station

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
  const { typed, names, of } = useFields({
    name: station?.name ?? '',
    zone: station?.zone ?? Intl.DateTimeFormat().resolvedOptions().timeZone,
    lat: String(station?.homestead.lat ?? ''),
    lon: String(station?.homestead.lon ?? ''),
    visitGapMinutes: String(station?.visitGapMinutes ?? 30),
    cattleAwayHours: String(station?.cattleAwayHours ?? 72),
  })
  const submit = async () => {
    await tell('PUT', '/api/station', {
      ...(station === null ? {} : stationBody(station)),
      name: typed.name,
      zone: typed.zone,
      homestead: { lat: typedNumber(typed.lat), lon: typedNumber(typed.lon) },
      visitGapMinutes: typedNumber(typed.visitGapMinutes),
      cattleAwayHours: typedNumber(typed.cattleAwayHours),
    })
    saved()
  }
  return (
    <Form
      form={form}
      label={setupWords.parts.station}
      button={station === null ? words.saveFirst : setupWords.save}
      fields={names}
      submit={submit}
    >
      <Field label={words.name} {...of('name')} required />
      <Field
        label={words.zone}
        {...of('zone')}
        hint={words.zoneHint}
        choices={Intl.supportedValuesOf('timeZone')}
        required
      />
      <PlaceFields words={words} lat={of('lat')} lon={of('lon')} />
      <div class="field-pair">
        <Field label={words.gap} {...of('visitGapMinutes')} kind="number" hint={words.gapHint} />
        <Field label={words.away} {...of('cattleAwayHours')} kind="number" hint={words.awayHint} />
      </div>
    </Form>
  )
}
