/** Which of the five never come to this station. */
import type { NamersAnswer } from '../../../services/http/own-animal-shapes.ts'
import { SPECIES, type Species } from '../../../services/words.ts'
import { tell } from '../../api/ask.ts'
import { FailedNotice } from '../../parts/notice.tsx'
import { useForm } from '../../parts/use-form.ts'
import { kindTitle, ownAnimalWords as words } from '../../text/own-animals.ts'
import { SavedTick } from './saved-tick.tsx'

interface NotHereProps {
  readonly absent: NamersAnswer['absent']
  readonly changed: () => Promise<void>
}

export function NotHere({ absent, changed }: NotHereProps) {
  const form = useForm()
  const save = async (species: Species, gone: boolean) => {
    const others = absent.filter((one) => one !== species)
    await tell('PUT', '/api/namers', { absent: gone ? [...others, species] : others })
    await changed()
  }
  return (
    <fieldset class="not-here" disabled={form.sending}>
      <legend>{words.notHere}</legend>
      <p class="hint">{words.notHereHint}</p>
      {SPECIES.map((species) => (
        <SavedTick
          key={species}
          form={form}
          name={species}
          label={kindTitle(species)}
          value={absent.includes(species)}
          save={(gone) => save(species, gone)}
        />
      ))}
      {form.failure !== null && <FailedNotice failure={form.failure} />}
    </fieldset>
  )
}
