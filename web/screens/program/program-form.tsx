/** The form of a program: a new one, or what may be changed of one. */
import { useEffect, useState } from 'preact/hooks'
import type { Program } from '../../../services/http/program-shapes.ts'
import { SPECIES, type Species } from '../../../services/words.ts'
import { Choice, Field } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { useWho, whoSays } from '../../parts/who.ts'
import { speciesMany, speciesName } from '../../text/counts.ts'
import { programWords } from '../../text/programs.ts'
import { dateOf, nightAfter } from '../../text/times.ts'

const words = programWords.fields
const SPECIES_CHOICES = SPECIES.map((value) => ({ value, words: speciesName(value) }))
/** A new program begins so many days from now and goes on for so many nights until somebody says otherwise. */
const DAYS_AHEAD = 7
const NIGHTS = 5

interface ProgramFormProps {
  readonly program: Program | null
  /** Station time. */
  readonly today: string
  readonly save: (body: object) => Promise<void>
  readonly cancel: () => void
}

export function ProgramForm({ program, today, save, cancel }: ProgramFormProps) {
  const form = useForm()
  const [who, setWho] = useWho()
  const [species, setSpecies] = useState<Species>(program?.species ?? 'camel')
  const { typed, names, of } = useFields({
    name: program?.name ?? '',
    method: program?.method ?? 'trap yard',
    fromNight: program?.fromNight ?? nightAfter(dateOf(today), DAYS_AHEAD),
    toNight: program?.toNight ?? nightAfter(dateOf(today), DAYS_AHEAD + NIGHTS - 1),
    note: program?.note ?? '',
  })
  const usualName = useUsualName(program, species)
  const submit = () => {
    const { name, ...others } = typed
    const body = {
      ...others,
      name: name.trim() === '' && program === null ? usualName : name,
      who: whoSays(),
    }
    return save(program === null ? { ...body, species } : body)
  }
  return (
    <Form
      form={form}
      label={program?.name ?? programWords.make}
      button={program === null ? programWords.save : programWords.saveChange}
      fields={[...names, 'species', 'who']}
      submit={submit}
      cancel={cancel}
    >
      {program === null && (
        <Choice
          label={words.species}
          name="species"
          value={species}
          change={setSpecies}
          choices={SPECIES_CHOICES}
        />
      )}
      <Field
        label={words.name}
        {...of('name')}
        {...(program === null && { hint: words.nameHint(usualName) })}
      />
      <Field label={words.method} {...of('method')} hint={words.methodHint} choices={programWords.methods} />
      <div class="field-pair">
        <Field label={words.fromNight} {...of('fromNight')} kind="date" />
        <Field label={words.toNight} {...of('toNight')} kind="date" />
      </div>
      <p class="hint">{words.nightsHint}</p>
      <Field label={words.note} {...of('note')} />
      <Field label={words.who} name="who" value={who} change={setWho} hint={words.whoHint} />
    </Form>
  )
}

/** A name for a program that nobody has named: its species. */
function useUsualName(program: Program | null, species: Species): string {
  const [name, setName] = useState('')
  useEffect(() => {
    if (program !== null) return
    const many = speciesMany(species)
    setName(many.slice(0, 1).toUpperCase() + many.slice(1))
  }, [program, species])
  return name
}
