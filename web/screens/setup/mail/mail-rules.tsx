/** Whose mails are whose: a line a camera. */
import type { Camera } from '../../../../services/http/shapes.ts'
import { MAIL_RULE_KINDS, type MailRuleKind } from '../../../../services/store/mail-tables.ts'
import { Choice, Field } from '../../../parts/field.tsx'
import { Icon } from '../../../parts/icon.tsx'
import { mailWords as words } from '../../../text/mail.ts'

export interface TypedRule {
  readonly cameraId: number
  readonly kind: MailRuleKind
  readonly words: string
}

interface MailRulesProps {
  readonly rules: readonly TypedRule[]
  readonly cameras: readonly Camera[]
  readonly change: (rules: readonly TypedRule[]) => void
}

export function MailRules({ rules, cameras, change }: MailRulesProps) {
  const changeOne = (at: number, to: Partial<TypedRule>) =>
    change(rules.map((rule, i) => (i === at ? { ...rule, ...to } : rule)))
  const add = () => {
    const next = cameras.find(({ id }) => rules.every(({ cameraId }) => cameraId !== id)) ?? cameras[0]
    if (next !== undefined)
      change([...rules, { cameraId: next.id, kind: rules.at(-1)?.kind ?? 'tag', words: '' }])
  }
  return (
    <fieldset class="mail-rules">
      <legend>{words.rules}</legend>
      <p class="hint">{words.rulesHint}</p>
      {rules.map((rule, i) => (
        <fieldset class="mail-rule" key={i}>
          <legend class="unseen">{words.rule(i + 1)}</legend>
          <Choice
            label={words.ruleCamera}
            name={`rules.${i}.cameraId`}
            value={String(rule.cameraId)}
            change={(id) => changeOne(i, { cameraId: Number(id) })}
            choices={cameras.map(({ id, name }) => ({ value: String(id), words: name }))}
          />
          <Choice
            label={words.ruleKind}
            name={`rules.${i}.kind`}
            value={rule.kind}
            change={(kind) => changeOne(i, { kind })}
            choices={MAIL_RULE_KINDS.map((kind) => ({ value: kind, words: words.ruleKinds[kind] }))}
          />
          <Field
            label={words.ruleWords[rule.kind]}
            name={`rules.${i}.words`}
            value={rule.words}
            change={(said) => changeOne(i, { words: said })}
          />
          <button
            type="button"
            class="button button-square"
            aria-label={words.removeRule(i + 1)}
            onClick={() => change(rules.filter((_, at) => at !== i))}
          >
            <Icon name="minus" />
          </button>
        </fieldset>
      ))}
      <button type="button" class="button" onClick={add}>
        {words.addRule}
      </button>
    </fieldset>
  )
}
