/** The form of a photo fetched from the camera's address. */
import { tell } from '../../../api/ask.ts'
import { Field, Tick, typedNumber } from '../../../parts/field.tsx'
import { Form } from '../../../parts/form.tsx'
import { SecretField } from '../../../parts/secret-field.tsx'
import { useFields } from '../../../parts/use-fields.ts'
import { useForm } from '../../../parts/use-form.ts'
import { waysInWords } from '../../../text/ways-in.ts'
import type { SourceFormProps } from './ways-in.tsx'

const words = waysInWords.snapshot
const orNull = (text: string) => (text.trim() === '' ? null : text.trim())

export function SnapshotForm({ camera, source, saved, cancel }: SourceFormProps) {
  const form = useForm()
  const before = source?.settings ?? {}
  const { typed, names, of } = useFields({
    address: String(before.address ?? ''),
    user: String(before.user ?? ''),
    password: '',
    certificateSha256: String(before.certificateSha256 ?? ''),
    everyMinutes: String(before.everyMinutes ?? 15),
    nightEveryMinutes: String(before.nightEveryMinutes ?? ''),
    onlyChanged: before.onlyChanged === true,
    leastChangePercent: String(before.leastChangePercent ?? 0.3),
    keepEveryMinutes: String(before.keepEveryMinutes ?? 60),
  })
  const submit = async () => {
    const night = typed.nightEveryMinutes.trim()
    const settings = {
      address: typed.address,
      user: orNull(typed.user),
      // Left empty, the one that is kept stays; without a name there is none.
      ...(typed.password !== '' && { password: typed.password }),
      ...(typed.user.trim() === '' && { password: null }),
      certificateSha256: orNull(typed.certificateSha256),
      everyMinutes: typedNumber(typed.everyMinutes),
      nightEveryMinutes: night === '' ? null : typedNumber(night),
      onlyChanged: typed.onlyChanged,
      leastChangePercent: typedNumber(typed.leastChangePercent),
      keepEveryMinutes: typedNumber(typed.keepEveryMinutes),
    }
    const path = `/api/cameras/${camera.id}/sources`
    if (source === null) await tell('POST', path, { kind: 'snapshot', settings })
    else await tell('PATCH', `${path}/${source.id}`, { settings })
    saved()
  }
  return (
    <Form
      form={form}
      label={waysInWords.kinds.snapshot}
      button={waysInWords.save}
      fields={names}
      submit={submit}
      cancel={cancel}
    >
      <Field label={words.address} {...of('address')} hint={words.addressHint} required />
      <div class="field-pair">
        <Field label={words.user} {...of('user')} hint={words.userHint} />
        <SecretField
          label={words.password}
          {...of('password')}
          {...(before.hasPassword === true && { hint: words.passwordKept })}
        />
      </div>
      <div class="field-pair">
        <Field label={words.every} {...of('everyMinutes')} kind="number" />
        <Field label={words.night} {...of('nightEveryMinutes')} kind="number" hint={words.nightHint} />
      </div>
      <Tick label={words.onlyChanged} {...of('onlyChanged')} />
      {typed.onlyChanged && (
        <div class="field-pair">
          <Field label={words.least} {...of('leastChangePercent')} kind="number" />
          <Field label={words.keepEvery} {...of('keepEveryMinutes')} kind="number" />
        </div>
      )}
      <Field label={words.certificate} {...of('certificateSha256')} hint={words.certificateHint} />
    </Form>
  )
}
