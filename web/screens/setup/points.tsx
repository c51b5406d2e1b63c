/** Points: the list in run order, a form for one, and a file for all. */
import { useState } from 'preact/hooks'
import type { Point } from '../../../services/http/shapes.ts'
import { POINT_KINDS } from '../../../services/words.ts'
import { tell, tellFile } from '../../api/ask.ts'
import type { Asked } from '../../api/use-answer.ts'
import { Choice, Field, Tick, typedNumber } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { EmptyNotice, FailedNotice, Skeleton, Spoken } from '../../parts/notice.tsx'
import { useForm } from '../../parts/use-form.ts'
import { pointLine } from '../../text/point.ts'
import { setupWords } from '../../text/setup.ts'
import { PhonePlace } from './station.tsx'

const words = setupWords.points
const FIELDS = [
  'name',
  'kind',
  'lat',
  'lon',
  'hasYard',
  'runOrder',
  'lowMarkPercent',
  'dryMarkPercent',
] as const

const KIND_CHOICES = POINT_KINDS.map((kind) => ({ value: kind, words: kind }))

interface PointSetupProps {
  readonly points: Asked<{ points: Point[] }>
}

export function PointSetup({ points: { answer, failure, reload } }: PointSetupProps) {
  const [editing, setEditing] = useState<number | 'new' | null>(null)
  const done = () => {
    setEditing(null)
    reload()
  }
  return (
    <>
      {answer === null && failure === null && <Skeleton shape="line" count={3} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {answer?.points.length === 0 && <EmptyNotice words={words.none} />}
      <ul class="setup-list">
        {answer?.points.map((point) => (
          <li key={point.id}>
            {editing === point.id ? (
              <PointForm point={point} done={done} cancel={() => setEditing(null)} />
            ) : (
              <div class="setup-item">
                <p>
                  <strong>{point.name}</strong>
                  <small>{pointLine(point)}</small>
                </p>
                <button
                  type="button"
                  class="button"
                  onClick={() => setEditing(point.id)}
                  aria-label={`${setupWords.change} ${point.name}`}
                >
                  {setupWords.change}
                </button>
              </div>
            )}
          </li>
        ))}
      </ul>
      {editing === 'new' ? (
        <PointForm point={null} done={done} cancel={() => setEditing(null)} />
      ) : (
        <button type="button" class="button button-strong" onClick={() => setEditing('new')}>
          {words.add}
        </button>
      )}
      <PointsFile loaded={reload} />
    </>
  )
}

interface PointFormProps {
  readonly point: Point | null
  readonly done: () => void
  readonly cancel: () => void
}

function PointForm({ point, done, cancel }: PointFormProps) {
  const form = useForm()
  const [name, setName] = useState(point?.name ?? '')
  const [kind, setKind] = useState<Point['kind']>(point?.kind ?? 'bore')
  const [lat, setLat] = useState(point === null ? '' : String(point.lat))
  const [lon, setLon] = useState(point === null ? '' : String(point.lon))
  const [hasYard, setHasYard] = useState(point?.hasYard ?? false)
  const [runOrder, setRunOrder] = useState(point === null ? '' : String(point.runOrder))
  const [low, setLow] = useState(String(point?.lowMarkPercent ?? 40))
  const [dry, setDry] = useState(String(point?.dryMarkPercent ?? 5))
  const submit = async () => {
    const body = {
      name,
      kind,
      lat: typedNumber(lat),
      lon: typedNumber(lon),
      hasYard,
      ...(runOrder.trim() === '' ? {} : { runOrder: typedNumber(runOrder) }),
      lowMarkPercent: typedNumber(low),
      dryMarkPercent: typedNumber(dry),
    }
    if (point === null) await tell('POST', '/api/points', body)
    else await tell('PATCH', `/api/points/${point.id}`, body)
    done()
  }
  const { failure } = form
  return (
    <Form
      form={form}
      label={point?.name ?? words.add}
      button={words.save}
      fields={FIELDS}
      submit={submit}
      cancel={cancel}
    >
      <Field label={words.name} name="name" value={name} change={setName} failure={failure} required />
      <Choice label={words.kind} name="kind" value={kind} choices={KIND_CHOICES} change={setKind} />
      <div class="field-pair">
        <Field
          label={words.lat}
          name="lat"
          value={lat}
          change={setLat}
          failure={failure}
          kind="degrees"
          hint={setupWords.station.degreesHint}
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
      <Tick label={words.yard} name="hasYard" on={hasYard} change={setHasYard} />
      <div class="field-pair">
        <Field
          label={words.runOrder}
          name="runOrder"
          value={runOrder}
          change={setRunOrder}
          failure={failure}
          kind="number"
        />
        <Field
          label={words.low}
          name="lowMarkPercent"
          value={low}
          change={setLow}
          failure={failure}
          kind="number"
        />
        <Field
          label={words.dry}
          name="dryMarkPercent"
          value={dry}
          change={setDry}
          failure={failure}
          kind="number"
        />
      </div>
    </Form>
  )
}

/** What the service takes a points file as; null for a file of another kind. */
export function pointsFileType(fileName: string): 'text/csv' | 'application/geo+json' | null {
  if (/\.(csv|txt)$/i.test(fileName)) return 'text/csv'
  return /\.(geojson|json)$/i.test(fileName) ? 'application/geo+json' : null
}

function PointsFile({ loaded }: { readonly loaded: () => void }) {
  const form = useForm()
  const [said, setSaid] = useState('')
  const load = async (file: File | undefined) => {
    setSaid('')
    if (file === undefined) return
    const type = pointsFileType(file.name)
    if (type === null) {
      form.fail({ ...words.wrongFile, field: null, status: null })
      return
    }
    await form.submit(async () => {
      const { added, changed } = await tellFile<{ added: number; changed: number }>(
        '/api/points/file',
        type,
        await file.text(),
      )
      setSaid(words.loaded(added, changed))
      loaded()
    })
  }
  return (
    <div class="points-file">
      <h3>{words.file}</h3>
      <p class="hint" id="file-hint">
        {words.fileHint}
      </p>
      <label class="button file-button">
        {words.fileButton}
        <input
          type="file"
          accept=".csv,.txt,.geojson,.json"
          aria-describedby="file-hint"
          disabled={form.sending}
          onChange={(event) => {
            const input = event.currentTarget
            // Emptied so that the same file, once put right, can be chosen again.
            load(input.files?.[0]).finally(() => {
              input.value = ''
            })
          }}
        />
      </label>
      <Spoken words={said} />
      {form.failure !== null && <FailedNotice failure={form.failure} />}
    </div>
  )
}
