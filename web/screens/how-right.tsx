/** How right the count is: by blind looks, put right, by mark, and by version of the models. */
import type { ComponentChildren } from 'preact'
import { useEffect } from 'preact/hooks'
import { evidenceQuestion, modelEvidenceQuestion } from '../api/questions.ts'
import { useAnswer } from '../api/use-answer.ts'
import { EmptyNotice, FailedNotice, Skeleton } from '../parts/notice.tsx'
import { Screen } from '../parts/screen.tsx'
import { howRightWords as words } from '../text/how-right.ts'
import { Corrected } from './how-right/corrected.tsx'
import { Looks } from './how-right/looks.tsx'
import { Marks } from './how-right/marks.tsx'
import { ModelPart } from './how-right/models.tsx'

export function HowRightScreen() {
  const evidence = useAnswer(evidenceQuestion)
  const models = useAnswer(modelEvidenceQuestion)
  const settled = evidence.answer !== null || evidence.failure !== null
  useEffect(() => {
    // The browser itself looks for it before it is there.
    if (settled && location.hash !== '') document.getElementById(location.hash.slice(1))?.scrollIntoView()
  }, [settled])
  return (
    <Screen title={words.title} kind="how-right">
      <p class="lead">{words.lead}</p>
      <Section name="looks" title={words.looks.title}>
        <p class="hint">{words.looks.hint}</p>
        <Waiting of={evidence} />
        {evidence.answer !== null &&
          (evidence.answer.weeks.length === 0 ? (
            <EmptyNotice words={words.looks.none} href="/blind-look" />
          ) : (
            <Looks evidence={evidence.answer} />
          ))}
      </Section>
      {evidence.answer !== null && evidence.answer.counts.length > 0 && (
        <Section name="counts" title={words.counts.title}>
          <p class="hint">{words.counts.hint}</p>
          {evidence.answer.counts.map((counts) => (
            <Corrected counts={counts} key={counts.weeks} />
          ))}
          <p class="hint">{words.counts.note}</p>
        </Section>
      )}
      <Section name="marks" title={words.marks.title}>
        <Marks />
      </Section>
      <Section name="models" title={words.models.title}>
        <p class="hint">{words.models.hint}</p>
        <Waiting of={models} />
        {models.answer !== null &&
          (models.answer.models.length === 0 ? (
            <EmptyNotice words={words.models.none} href="/check" />
          ) : (
            models.answer.models.map((one) => <ModelPart of={one} key={JSON.stringify(one.models)} />)
          ))}
      </Section>
    </Screen>
  )
}

interface SectionProps {
  readonly name: string
  readonly title: string
  readonly children: ComponentChildren
}

function Section({ name, title, children }: SectionProps) {
  return (
    <section id={name} class="told-section" aria-labelledby={`${name}-head`}>
      <h2 id={`${name}-head`}>{title}</h2>
      {children}
    </section>
  )
}

function Waiting({ of }: { readonly of: ReturnType<typeof useAnswer<unknown>> }) {
  if (of.failure !== null) return <FailedNotice failure={of.failure} again={of.reload} />
  return of.answer === null ? <Skeleton shape="line" count={4} /> : null
}
