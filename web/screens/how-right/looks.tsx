/** What blind looks say: how often a flag is right, how much is missed, by species, by light and by camera. */
import { useState } from 'preact/hooks'
import type { EvidenceAnswer } from '../../../services/http/evidence-shapes.ts'
import { Fold } from '../../parts/fold.tsx'
import { Numbers } from '../../parts/numbers.tsx'
import { speciesName } from '../../text/counts.ts'
import { howRightWords, weeksWords } from '../../text/how-right.ts'
import { percent, range } from '../../text/shares.ts'
import { ToldShare } from './told-share.tsx'

const words = howRightWords.looks

export function Looks({ evidence }: { readonly evidence: EvidenceAnswer }) {
  const [open, setOpen] = useState(false)
  return (
    <>
      <p>{weeksWords(evidence)}</p>
      <p>
        <a class="button" href="/blind-look">
          {words.go}
        </a>
      </p>
      <ul class="species-told">
        {evidence.species.map(({ species, role, right, missed, found }) => (
          <li key={species}>
            <h3>
              <span class={`swatch swatch-${species}`} aria-hidden="true" />
              {speciesName(species)} <small>{role}</small>
            </h3>
            <dl class="told">
              <dt>{words.right}</dt>
              <dd>
                <ToldShare told={right} />
              </dd>
              <dt>{words.missed}</dt>
              <dd>
                <ToldShare told={missed} />
              </dd>
              {role === 'feral' && (
                <>
                  <dt>{words.found}</dt>
                  <dd>
                    {found === null ? (
                      <small>{words.notTold}</small>
                    ) : (
                      <>
                        {percent(found.share)} <small>{range(found)}</small>
                      </>
                    )}
                  </dd>
                </>
              )}
            </dl>
          </li>
        ))}
      </ul>
      <p class="hint">
        {words.note} {words.rule(evidence.noneFoundUnderOnePercent)}
      </p>
      <Fold head={<span>{words.parts}</span>} open={open} turned={setOpen}>
        <PartTable
          label={words.light}
          rows={evidence.lights.map(({ light, ...told }) => ({ name: light, ...told }))}
        />
        <PartTable
          label={words.camera}
          rows={evidence.cameras.map(({ cameraName, ...told }) => ({ name: cameraName, ...told }))}
        />
      </Fold>
    </>
  )
}

interface PartTableProps {
  readonly label: string
  readonly rows: ReadonlyArray<Pick<EvidenceAnswer['cameras'][number], 'right' | 'missed'> & { name: string }>
}

function PartTable({ label, rows }: PartTableProps) {
  return (
    <Numbers label={label} heads={[label, words.anyRight, words.anyMissed]}>
      {rows.map(({ name, right, missed }) => (
        <tr key={name}>
          <th scope="row">{name}</th>
          <td>
            <ToldShare told={right} />
          </td>
          <td>
            <ToldShare told={missed} />
          </td>
        </tr>
      ))}
    </Numbers>
  )
}
