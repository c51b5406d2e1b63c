/** Each version of the models on photos that people spoke of, and what its card says beside it. */
import type { ModelEvidenceOfOne } from '../../../services/http/evidence-shapes.ts'
import { SPECIES } from '../../../services/words.ts'
import { Numbers } from '../../parts/numbers.tsx'
import { ShareBar } from '../../parts/share-bar.tsx'
import { speciesName } from '../../text/counts.ts'
import { howRightWords, nameWords } from '../../text/how-right.ts'
import { percent, range } from '../../text/shares.ts'
import { Reliability } from './reliability.tsx'

const words = howRightWords.models

export function ModelPart({ of }: { readonly of: ModelEvidenceOfOne }) {
  const { models, present, photos, blind, untold, learnedFrom, confusion, byLight, byCamera, card } = of
  return (
    <article class="model-told">
      <h3>
        {models.name} {models.version}
        {models.stationNamer !== null && `, ${words.ownNames(models.stationNamer)}`}{' '}
        <small>{present ? words.present : words.earlier}</small>
      </h3>
      <p>
        {words.spoken(photos, blind)} {words.untold(untold)} {words.learnedFrom(learnedFrom)}
      </p>
      <h4>{words.confusion}</h4>
      <p class="hint">{words.confusionHint}</p>
      <Confusion of={confusion} />
      <h4>{words.byLight}</h4>
      <RightTable
        rows={byLight.map(({ light, ...told }) => ({ name: light, ...told }))}
        label={words.byLight}
      />
      <h4>{words.byCamera}</h4>
      <RightTable
        rows={byCamera.map(({ cameraName, ...told }) => ({ name: cameraName, ...told }))}
        label={words.byCamera}
      />
      <Reliability of={of} />
      {card !== null && (
        <>
          <h4>{words.card}</h4>
          <Numbers label={words.card} heads={[howRightWords.looks.species, ...card.map(({ name }) => name)]}>
            {SPECIES.map((species) => (
              <tr key={species}>
                <th scope="row">{speciesName(species)}</th>
                {card.map(({ name, right }) => (
                  <td class="number" key={name}>
                    {ofWords(right[species])}
                  </td>
                ))}
              </tr>
            ))}
          </Numbers>
        </>
      )}
    </article>
  )
}

const ofWords = (told: readonly number[] | undefined) =>
  told === undefined ? '–' : `${told[0]} of ${told[1]}`

function Confusion({ of: { names, counts } }: { readonly of: ModelEvidenceOfOne['confusion'] }) {
  // "None of these" is never counted, so it has a row and no column.
  const columns = names.filter((name) => name !== 'other')
  return (
    <Numbers label={words.confusion} heads={[words.truly, ...columns.map(nameWords)]} tight>
      {names.map((truth, row) => (
        <tr key={truth}>
          <th scope="row">{nameWords(truth)}</th>
          {columns.map((name) => {
            const count = counts[row]?.[names.indexOf(name)] ?? 0
            const kind = count === 0 ? 'nothing' : name === truth ? 'right' : 'wrong'
            return (
              <td class={`number confusion-${kind}`} key={name}>
                {count}
              </td>
            )
          })}
        </tr>
      ))}
    </Numbers>
  )
}

interface RightTableProps {
  readonly label: string
  readonly rows: ReadonlyArray<
    Pick<ModelEvidenceOfOne['byCamera'][number], 'right' | 'of' | 'share'> & { readonly name: string }
  >
}

function RightTable({ label, rows }: RightTableProps) {
  return (
    <Numbers label={label} heads={[label, words.boxes]}>
      {rows.map(({ name, right, of, share }) => (
        <tr key={name}>
          <th scope="row">{name}</th>
          <td>
            <span class="told-share">
              <span>
                {right} of {of}
                {share !== null && `, ${percent(share.share)}`}
              </span>
              {share !== null && (
                <>
                  <ShareBar {...share} />
                  <small>{range(share)}</small>
                </>
              )}
            </span>
          </td>
        </tr>
      ))}
    </Numbers>
  )
}
