import { expect, test } from 'vitest'
import { withQuery } from '../../../web/api/questions.ts'
import { namesField, typedNumber } from '../../../web/parts/field.tsx'
import { neighboursOf } from '../../../web/parts/photo-list.ts'
import { sendLine } from '../../../web/screens/setup/camera-key.tsx'
import { pointsFileType } from '../../../web/screens/setup/points-file.tsx'
import { percentTyped, shareTyped } from '../../../web/screens/setup/species.tsx'

const failure = (field: string | null) => ({ what: '', remedy: '', field, status: 400 })

test('a refusal is shown at the field it names, also where the field lies inside another', () => {
  expect(namesField(failure('lat'), 'lat')).toBe(true)
  expect(namesField(failure('homestead.lat'), 'lat')).toBe(true)
  expect(namesField(failure('flat'), 'lat')).toBe(false)
  expect(namesField(failure(null), 'lat')).toBe(false)
})

test('a number is taken with a comma or a true minus sign; what is no number goes as typed, to be refused by name', () => {
  expect(typedNumber('-28.4')).toBe(-28.4)
  expect(typedNumber(' −28,4 ')).toBe(-28.4)
  expect(typedNumber('')).toBe('')
  expect(typedNumber('south')).toBe('south')
})

test('how sure a count must be is typed in per cent, and kept as a share of one', () => {
  expect(percentTyped(0.35)).toBe('35')
  expect(percentTyped(0.125)).toBe('12.5')
  expect(shareTyped('35', 'flag')).toBe(0.35)
  expect(shareTyped('12,5', 'flag')).toBe(0.125)
  expect(shareTyped('0', 'flag')).toBe(0)
  expect(shareTyped('100', 'flag')).toBe(1)
})

test('what is no share of a hundred is refused at its field, with what to give', () => {
  for (const typed of ['101', '-1', '', 'half']) {
    expect(() => shareTyped(typed, 'species.2.flagThreshold')).toThrow(
      expect.objectContaining({
        failure: expect.objectContaining({
          field: 'species.2.flagThreshold',
          remedy: expect.stringContaining('0 to 100'),
        }),
      }),
    )
  }
})

test('filters that are not set stay out of the address', () => {
  expect(withQuery('/photos', { point: 1, night: null, species: undefined })).toBe('/photos?point=1')
  expect(withQuery('/photos', {})).toBe('/photos')
})

test('a photo knows its neighbours in the list it was opened from, and none when opened by its address', () => {
  expect(neighboursOf(2, [3, 2, 1])).toEqual({ previous: 3, next: 1 })
  expect(neighboursOf(3, [3, 2, 1])).toEqual({ previous: null, next: 2 })
  expect(neighboursOf(7, [3, 2, 1])).toEqual({ previous: null, next: null })
})

test('a points file is told by its name', () => {
  expect(pointsFileType('Points.CSV')).toBe('text/csv')
  expect(pointsFileType('points.geojson')).toBe('application/geo+json')
  expect(pointsFileType('points.xlsx')).toBeNull()
})

test('the line that sends a photo carries the key in its header and the bytes as they are', () => {
  expect(sendLine('http://127.0.0.1:8080', 'abc')).toBe(
    "curl -H 'X-Camera-Key: abc' -H 'Content-Type: image/jpeg' --data-binary @photo.jpg http://127.0.0.1:8080/api/stills",
  )
})
