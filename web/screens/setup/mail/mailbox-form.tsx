/** The form of one mailbox, new or changed. */
import { useState } from 'preact/hooks'
import type { Mailbox } from '../../../../services/http/mail-shapes.ts'
import type { Camera } from '../../../../services/http/shapes.ts'
import { tell } from '../../../api/ask.ts'
import { Choice, Field, Tick, typedNumber } from '../../../parts/field.tsx'
import { Form } from '../../../parts/form.tsx'
import { SecretField } from '../../../parts/secret-field.tsx'
import { useFields } from '../../../parts/use-fields.ts'
import { useForm } from '../../../parts/use-form.ts'
import { mailWords as words } from '../../../text/mail.ts'
import { MailRules, type TypedRule } from './mail-rules.tsx'

interface MailboxFormProps {
  readonly mailbox: Mailbox | null
  readonly cameras: readonly Camera[]
  readonly done: () => void
  readonly cancel: () => void
}

const choicesOf = <Value extends string>(said: Readonly<Record<Value, string>>) =>
  (Object.entries(said) as [Value, string][]).map(([value, told]) => ({ value, words: told }))
const orNull = (typed: string) => (typed.trim() === '' ? null : typed.trim())

export function MailboxForm({ mailbox, cameras, done, cancel }: MailboxFormProps) {
  const form = useForm()
  const { typed, names, of } = useFields({
    name: mailbox?.name ?? '',
    host: mailbox?.host ?? '',
    security: mailbox?.security ?? 'tls',
    port: mailbox === null ? '' : String(mailbox.port),
    plainByOwner: mailbox?.plainByOwner ?? false,
    certificateSha256: mailbox?.certificateSha256 ?? '',
    userName: mailbox?.userName ?? '',
    password: '',
    folder: mailbox?.folder ?? 'INBOX',
    afterTaking: mailbox?.afterTaking ?? 'flag',
    fileTo: mailbox?.fileTo ?? '',
    pollMinutes: String(mailbox?.pollMinutes ?? 5),
    isOn: mailbox?.isOn ?? true,
  })
  const [rules, setRules] = useState<readonly TypedRule[]>(
    mailbox?.rules.map(({ cameraId, kind, words: said }) => ({ cameraId, kind, words: said })) ??
      (cameras[0] === undefined ? [] : [{ cameraId: cameras[0].id, kind: 'tag', words: '' }]),
  )
  const submit = async () => {
    const { port, password, ...others } = typed
    const isTls = typed.security === 'tls'
    const body = {
      ...others,
      pollMinutes: typedNumber(typed.pollMinutes),
      certificateSha256: isTls ? orNull(typed.certificateSha256) : null,
      fileTo: typed.afterTaking === 'file' ? orNull(typed.fileTo) : null,
      rules,
      ...(port.trim() === '' ? {} : { port: typedNumber(port) }),
      ...(mailbox !== null && password === '' ? {} : { password }),
    }
    await (mailbox === null
      ? tell('POST', '/api/mailboxes', body)
      : tell('PATCH', `/api/mailboxes/${mailbox.id}`, body))
    done()
  }
  const fields = [...names, ...rules.map((_, i) => `rules.${i}.words`)]
  return (
    <Form
      form={form}
      label={mailbox?.name ?? words.add}
      button={words.save}
      fields={fields}
      submit={submit}
      cancel={cancel}
    >
      <Field label={words.name} {...of('name')} hint={words.nameHint} required />
      <Field label={words.host} {...of('host')} hint={words.hostHint} required />
      <div class="field-pair">
        <Choice label={words.security} {...of('security')} choices={choicesOf(words.securities)} />
        <Field label={words.port} {...of('port')} kind="number" hint={words.portHint} />
      </div>
      {typed.security === 'none' && <Tick label={words.plain} {...of('plainByOwner')} />}
      {typed.security === 'tls' && (
        <Field label={words.certificate} {...of('certificateSha256')} hint={words.certificateHint} />
      )}
      <div class="field-pair">
        <Field label={words.user} {...of('userName')} required />
        <SecretField
          label={words.password}
          {...of('password')}
          hint={mailbox === null ? words.passwordHint : words.passwordKept}
        />
      </div>
      <div class="field-pair">
        <Field label={words.folder} {...of('folder')} hint={words.folderHint} />
        <Field label={words.poll} {...of('pollMinutes')} kind="number" hint={words.pollHint} />
      </div>
      <Choice label={words.after} {...of('afterTaking')} choices={choicesOf(words.afters)} />
      {typed.afterTaking === 'file' && (
        <Field label={words.fileTo} {...of('fileTo')} hint={words.fileToHint} />
      )}
      <MailRules rules={rules} cameras={cameras} change={setRules} />
      <Tick label={words.isOn} {...of('isOn')} />
    </Form>
  )
}
