/** Every kind of source there is: a new one is added here and in the shapes of its settings. */
import { Refusal } from '../refusal.ts'
import type { SourceKindName } from '../words.ts'
import { dropFolder } from './drop-folder.ts'
import { snapshot } from './snapshot.ts'
import { asKind, type SourceKind } from './source.ts'

const KINDS: readonly SourceKind[] = [asKind(dropFolder), asKind(snapshot)]

/** @throws Refusal for one that is not built into this version */
export function kindOf(name: SourceKindName): SourceKind {
  const kind = KINDS.find((one) => one.name === name)
  if (kind !== undefined) return kind
  throw new Refusal({
    kind: 'bad input',
    detail: `kind: this version can't fetch photos by ${name}.`,
    field: 'kind',
    remedy: `Choose one of ${KINDS.map((one) => one.name).join(', ')}.`,
  })
}
