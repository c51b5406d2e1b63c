/** The owner's kilometres between places: one by one, from a file, and taken back. */
import { useState } from 'preact/hooks'
import type { DistancesAnswer } from '../../../services/http/program-shapes.ts'
import type { Point } from '../../../services/http/shapes.ts'
import { tell, tellFile } from '../../api/ask.ts'
import { Choice, Field, typedNumber } from '../../parts/field.tsx'
import { FileButton } from '../../parts/file-button.tsx'
import { Form } from '../../parts/form.tsx'
import { LongList } from '../../parts/long-list.tsx'
import { FailedNotice, Spoken } from '../../parts/notice.tsx'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { whoSays } from '../../parts/who.ts'
import { trackWords as words } from '../../text/getting-there.ts'

const HOME = 'home'

type Distance = DistancesAnswer['distances'][number]
type Saved = (told: DistancesAnswer) => void

const say = (distance: object) =>
  tell<DistancesAnswer>('POST', '/api/distances', { distances: [distance], who: whoSays() })

interface GivenProps {
  readonly distances: readonly Distance[]
  readonly points: readonly Point[]
  readonly saved: Saved
}

export function GivenDistances({ distances, points, saved }: GivenProps) {
  const form = useForm()
  const nameOf = (place: Distance['from']) =>
    place === HOME ? words.homestead : (points.find(({ id }) => id === place)?.name ?? '')
  if (distances.length === 0) return <p class="small">{words.none}</p>
  return (
    <>
      <LongList showAll={words.showAll}>
        {distances.map(({ from, to, km }) => (
          <li key={`${from} ${to}`}>
            <div class="setup-item">
              <p>{words.distance(nameOf(from), nameOf(to), km)}</p>
              <button
                type="button"
                class="button"
                aria-label={words.takeBack(nameOf(from), nameOf(to))}
                disabled={form.sending}
                onClick={() => form.submit(async () => saved(await say({ from, to, km: null })))}
              >
                {words.takeBackShort}
              </button>
            </div>
          </li>
        ))}
      </LongList>
      {form.failure !== null && <FailedNotice failure={form.failure} />}
    </>
  )
}

interface DistanceFormProps {
  readonly points: readonly Point[]
  readonly saved: Saved
}

export function DistanceForm({ points, saved }: DistanceFormProps) {
  const form = useForm()
  const { typed, names, of } = useFields<Record<'from' | 'to' | 'km', string>>({
    from: HOME,
    to: String(points[0]!.id),
    km: '',
  })
  const places = points.map(({ id, name }) => ({ value: String(id), words: name }))
  const placeOf = (value: string) => (value === HOME ? HOME : Number(value))
  const submit = async () => {
    saved(await say({ from: placeOf(typed.from), to: placeOf(typed.to), km: typedNumber(typed.km) }))
  }
  return (
    <Form form={form} label={words.one} button={words.add} fields={names} submit={submit}>
      <div class="field-pair">
        <Choice
          label={words.from}
          {...of('from')}
          choices={[{ value: HOME, words: words.homestead }, ...places]}
        />
        <Choice label={words.to} {...of('to')} choices={places} />
        <Field label={words.km} {...of('km')} kind="number" />
      </div>
    </Form>
  )
}

export function DistancesFile({ saved }: { readonly saved: Saved }) {
  const form = useForm()
  const [said, setSaid] = useState('')
  const load = async (file: File | undefined) => {
    setSaid('')
    if (file === undefined) return
    await form.submit(async () => {
      const told = await tellFile<DistancesAnswer>('/api/distances/file', 'text/csv', await file.text())
      setSaid(words.loaded(told.distances.length))
      saved(told)
    })
  }
  return (
    <div class="points-file">
      <h4>{words.file}</h4>
      <p class="hint" id="distances-hint">
        {words.fileHint}
      </p>
      <FileButton
        words={words.fileButton}
        accept=".csv,.txt"
        describedBy="distances-hint"
        sending={form.sending}
        load={load}
      />
      <Spoken words={said} />
      {form.failure !== null && <FailedNotice failure={form.failure} />}
    </div>
  )
}
