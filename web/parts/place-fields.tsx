/** A place on the map: latitude, longitude, and the phone's own where it gives one. */
import { setupWords } from '../text/setup.ts'
import { Field } from './field.tsx'
import { PhonePlace } from './phone-place.tsx'
import type { FieldProps } from './use-fields.ts'

interface PlaceFieldsProps {
  readonly words: { readonly lat: string; readonly lon: string }
  readonly lat: FieldProps<string>
  readonly lon: FieldProps<string>
}

export function PlaceFields({ words, lat, lon }: PlaceFieldsProps) {
  return (
    <>
      <div class="field-pair">
        <Field label={words.lat} {...lat} kind="degrees" hint={setupWords.degreesHint} required />
        <Field label={words.lon} {...lon} kind="degrees" required />
      </div>
      <PhonePlace
        found={(place) => {
          lat.change(place.lat)
          lon.change(place.lon)
        }}
      />
    </>
  )
}
