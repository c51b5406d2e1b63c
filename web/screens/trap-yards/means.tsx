/** What the proposal goes by: portable yards, nights and weeks, and how far the species goes in a day. */
import { useState } from 'preact/hooks'
import type { TrapYardsAnswer } from '../../../services/http/trap-yard-shapes.ts'
import { tell } from '../../api/ask.ts'
import { Field, typedNumber } from '../../parts/field.tsx'
import { Fold } from '../../parts/fold.tsx'
import { Form } from '../../parts/form.tsx'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { meansLine, yardWords } from '../../text/trap-yards.ts'
import { yardMeansWords as words } from '../../text/yard-plan.ts'

interface MeansProps {
  readonly answer: TrapYardsAnswer
  readonly changed: () => void
}

export function Means({ answer, changed }: MeansProps) {
  const [open, setOpen] = useState(false)
  return (
    <section class="yard-means" aria-labelledby="means-head">
      <Fold
        head={
          <>
            <h2 id="means-head">{yardWords.means}</h2>
            <span class="small">{meansLine(answer)}</span>
          </>
        }
        open={open}
        turned={setOpen}
      >
        <MeansForm answer={answer} changed={changed} />
        <RangeForm answer={answer} changed={changed} key={answer.species} />
      </Fold>
    </section>
  )
}

function MeansForm({ answer, changed }: MeansProps) {
  const form = useForm()
  const { portableYards, nightsSet, openWeeks, checkingWeeks } = answer.means
  const { typed, names, of } = useFields({
    portableYards: String(portableYards),
    nightsSet: String(nightsSet),
    openWeeks: String(openWeeks),
    checkingWeeks: String(checkingWeeks),
  })
  const submit = async () => {
    await tell('PUT', '/api/trap-yards/means', {
      portableYards: typedNumber(typed.portableYards),
      nightsSet: typedNumber(typed.nightsSet),
      openWeeks: typedNumber(typed.openWeeks),
      checkingWeeks: typedNumber(typed.checkingWeeks),
    })
    changed()
  }
  return (
    <Form form={form} label={yardWords.means} button={words.save} fields={names} submit={submit}>
      <div class="two-columns">
        <Field label={words.portable} kind="number" {...of('portableYards')} />
        <Field label={words.nightsSet} kind="number" {...of('nightsSet')} />
        <Field label={words.openWeeks} kind="number" {...of('openWeeks')} />
        <Field label={words.checkingWeeks} kind="number" {...of('checkingWeeks')} />
      </div>
    </Form>
  )
}

function RangeForm({ answer, changed }: MeansProps) {
  const form = useForm()
  const { species, range } = answer
  const { typed, names, of } = useFields({ km: String(range.km), source: range.source })
  const submit = async () => {
    const moved = typedNumber(typed.km) !== range.km
    // Another number is not what the old source says.
    const source = moved && typed.source === range.source ? words.ownSource : typed.source
    await tell('PUT', '/api/trap-yards/ranges', {
      species,
      range: typed.km.trim() === '' ? null : { km: typedNumber(typed.km), source },
    })
    changed()
  }
  return (
    <Form form={form} label={words.range(species)} button={words.saveRange} fields={names} submit={submit}>
      <div class="two-columns">
        <Field label={words.range(species)} kind="number" hint={words.rangeHint} {...of('km')} />
        <Field label={words.source} {...of('source')} />
      </div>
    </Form>
  )
}
