/** How the latest trial went, in a sentence and a table. */
import type { NamersAnswer } from '../../../services/http/own-animal-shapes.ts'
import { Numbers } from '../../parts/numbers.tsx'
import {
  kindTitle,
  leftWords,
  speciesTrialWords,
  verdictWords,
  ownAnimalWords as words,
  wrongBefore,
  wrongNow,
} from '../../text/own-animals.ts'

export function TrialTold({ latest }: { readonly latest: NamersAnswer['versions'][number] }) {
  const species = latest.trial.ofEach.filter(({ name }) => name !== 'other')
  return (
    <>
      <h4>{words.tried}</h4>
      <p>{verdictWords(latest)}</p>
      {latest.verdict === 'take' && <p>{leftWords(latest)}</p>}
      {species.length > 0 && (
        <>
          <p class="hint">{words.ofEach}</p>
          <Numbers label={words.ofEach} heads={[words.species, words.before, words.now, words.so]} tight>
            {species.map((one) => (
              <tr key={one.name}>
                <th scope="row">{kindTitle(one.name)}</th>
                <td>{wrongBefore(one).toLocaleString('en-AU')}</td>
                <td>{wrongNow(one).toLocaleString('en-AU')}</td>
                <td class={one.worse ? 'wrong' : ''}>{speciesTrialWords(one)}</td>
              </tr>
            ))}
          </Numbers>
        </>
      )}
    </>
  )
}
