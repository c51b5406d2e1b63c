/** Keeping a plan under a name; a plan that is changed is kept as its next version. */
import type { KeptPlan } from '../../../services/http/trap-yard-shapes.ts'
import { ask, tell } from '../../api/ask.ts'
import { Field, typedNumber } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { useForm } from '../../parts/use-form.ts'
import { planWords as words } from '../../text/yard-plan.ts'
import type { Draft } from './draft.ts'
import { hoursQuestion } from './hours.tsx'
import type { DraftProps } from './your-plan.tsx'

interface KeepProps extends DraftProps {
  readonly kept: (plan: KeptPlan) => void
}

export function Keep({ answer, draft, change, kept }: KeepProps) {
  const form = useForm()
  const button = draft.of === null ? words.keep : words.keepChange(draft.of.version + 1)
  const submit = async () => {
    const plan = {
      name: draft.name,
      species: answer.species,
      pointIds: draft.points,
      fromNight: draft.first,
      nights: typedNumber(draft.nights),
      hours: await hoursOf(answer.species, draft),
      cattleShare: draft.cattlePercent / 100,
      note: draft.note.trim() === '' ? null : draft.note,
    }
    kept(
      draft.of === null
        ? await tell<KeptPlan>('POST', '/api/trap-yards/plans', plan)
        : await tell<KeptPlan>('PUT', `/api/trap-yards/plans/${draft.of.planId}`, {
            ...plan,
            version: draft.of.version,
          }),
    )
  }
  return (
    <section aria-labelledby="keep-head">
      <h2 id="keep-head">{words.keep}</h2>
      <Form form={form} label={words.keep} button={button} fields={['name', 'note']} submit={submit}>
        <Field
          label={words.name}
          name="name"
          value={draft.name}
          change={(name) => change({ name })}
          required
        />
        <Field label={words.note} name="note" value={draft.note} change={(note) => change({ note })} />
      </Form>
    </section>
  )
}

/** A person's, else as they are worked out: asked for again, as the screen may not have them yet. */
async function hoursOf(species: string, draft: Draft): Promise<{ from: number; to: number } | null> {
  if (draft.chosen !== null) return draft.chosen
  const question = hoursQuestion(species, draft)
  if (question === null) return null
  const { answer } = await ask(question)
  return answer.kind === 'window' ? { from: answer.from, to: answer.to } : null
}
