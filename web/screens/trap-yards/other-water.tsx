/** Other water for stock and wildlife: confirmed for the waters of a cluster, with its date, and taken back by hand. */
import { useState } from 'preact/hooks'
import type {
  TrapYardsAnswer,
  YardClusterAnswer,
  YardPoint,
} from '../../../services/http/trap-yard-shapes.ts'
import { tell } from '../../api/ask.ts'
import { Field, Tick } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { FailedNotice } from '../../parts/notice.tsx'
import { Opener } from '../../parts/opener.tsx'
import { useForm } from '../../parts/use-form.ts'
import { list } from '../../text/counts.ts'
import { otherWaterLine, saidTogether, otherWaterWords as words } from '../../text/other-water.ts'
import { waterSafety } from '../../text/safety.ts'

interface OtherWaterProps {
  readonly answer: TrapYardsAnswer
  readonly cluster: YardClusterAnswer
  readonly changed: () => void
}

const PATH = '/api/trap-yards/other-water'

export function OtherWater({ answer, cluster, changed }: OtherWaterProps) {
  const [open, setOpen] = useState<boolean | null>(null)
  const members = answer.points.filter(({ pointId }) => cluster.pointIds.includes(pointId))
  const sure = members.filter(({ otherWater }) => otherWater.state === 'sure')
  const asked = cluster.lacks.filter(({ lack }) => lack !== 'kept open').map(({ pointId }) => pointId)
  return (
    <div class="yard-other-water">
      {sure.length > 0 && <Confirmed answer={answer} points={sure} changed={changed} />}
      {asked.length > 0 && open !== true && (
        <Opener back={open === false} press={() => setOpen(true)} strong>
          {words.confirm}
        </Opener>
      )}
      {open === true && (
        <ConfirmForm
          answer={answer}
          members={members}
          asked={asked}
          close={() => setOpen(false)}
          saved={() => {
            setOpen(false)
            changed()
          }}
        />
      )}
    </div>
  )
}

interface ConfirmedProps {
  readonly answer: TrapYardsAnswer
  readonly points: readonly YardPoint[]
  readonly changed: () => void
}

function Confirmed({ answer, points, changed }: ConfirmedProps) {
  const form = useForm()
  const takeBack = (of: readonly YardPoint[]) =>
    form.submit(async () => {
      await tell('POST', PATH, { pointIds: of.map(({ pointId }) => pointId), isSure: false })
      changed()
    })
  return (
    <>
      <h4>{words.title}</h4>
      <ul class="plain-list yard-confirmed">
        {saidTogether(points).map((of) => (
          <li key={of[0]!.pointId}>
            <span>{otherWaterLine(answer, of)}</span>
            <button
              type="button"
              class="button"
              aria-label={words.takeBackLabel(list(of.map(({ name }) => name)))}
              disabled={form.sending}
              onClick={() => takeBack(of)}
            >
              {words.takeBack}
            </button>
          </li>
        ))}
      </ul>
      {form.failure !== null && <FailedNotice failure={form.failure} />}
    </>
  )
}

interface ConfirmFormProps {
  readonly answer: TrapYardsAnswer
  readonly members: readonly YardPoint[]
  /** Waters that want a word; all ticked at first. */
  readonly asked: readonly number[]
  readonly close: () => void
  readonly saved: () => void
}

function ConfirmForm({ answer, members, asked, close, saved }: ConfirmFormProps) {
  const form = useForm()
  const [shut, setShut] = useState<ReadonlySet<number>>(new Set(asked))
  const [stays, setStays] = useState<ReadonlySet<number>>(new Set())
  const [elsewhere, setElsewhere] = useState('')
  const memberIds = members.map(({ pointId }) => pointId)
  const others = answer.points.filter(({ pointId }) => !memberIds.includes(pointId))
  const submit = async () => {
    await tell('POST', PATH, {
      pointIds: [...shut],
      isSure: true,
      openPointIds: [...stays],
      elsewhere: elsewhere.trim() === '' ? null : elsewhere,
    })
    saved()
  }
  return (
    <Form
      form={form}
      label={words.title}
      button={words.save}
      fields={['elsewhere']}
      submit={submit}
      cancel={close}
    >
      <p class="safety-line">{waterSafety}</p>
      <Ticks
        legend={words.forWhich}
        name="shut"
        points={members.filter(({ pointId }) => asked.includes(pointId))}
        ticked={shut}
        change={setShut}
      />
      <Ticks legend={words.stays} name="stays" points={others} ticked={stays} change={setStays} />
      <Field
        label={words.elsewhere}
        name="elsewhere"
        value={elsewhere}
        change={setElsewhere}
        hint={words.elsewhereHint}
      />
      <p class="hint">{words.lasts}</p>
    </Form>
  )
}

interface TicksProps {
  readonly legend: string
  readonly name: string
  readonly points: readonly YardPoint[]
  readonly ticked: ReadonlySet<number>
  readonly change: (ticked: ReadonlySet<number>) => void
}

export function Ticks({ legend, name, points, ticked, change }: TicksProps) {
  return (
    <fieldset class="yard-ticks">
      <legend>{legend}</legend>
      {points.map(({ pointId, name: label }) => (
        <Tick
          label={label}
          name={`${name}-${pointId}`}
          value={ticked.has(pointId)}
          change={(on) =>
            change(new Set([...ticked].filter((id) => id !== pointId).concat(on ? [pointId] : [])))
          }
          key={pointId}
        />
      ))}
    </fieldset>
  )
}
