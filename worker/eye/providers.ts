/** Which execution providers of ONNX Runtime are there. */
import ort from 'onnxruntime-node'
import { Refusal } from '../../services/refusal.ts'

const FIELD = 'HOOFTALLY_PROVIDERS'

/** Those that came with the runtime; others need libraries of their own beside it. */
function available(): string {
  return ort
    .listSupportedBackends()
    .map(({ name, bundled }) => (bundled ? name : `${name} (if its libraries are installed)`))
    .join(', ')
}

/** @throws Refusal that names the providers there are, when one is asked for that the runtime does not know */
export function refuseUnknownProviders(providers: readonly string[]): void {
  const known = ort.listSupportedBackends().map(({ name }) => name)
  const unknown = providers.filter((name) => !known.includes(name))
  if (unknown.length === 0) return
  throw new Refusal({
    kind: 'bad input',
    detail: `${FIELD}: the runtime of the models on this machine has no provider called ${unknown.join(', ')}.`,
    field: FIELD,
    remedy: `Choose among ${available()}, or leave ${FIELD} out for cpu.`,
  })
}

/** What to tell when the models could not be loaded with these providers. */
export function loadingFailed(providers: readonly string[], reason: string): Refusal {
  const onlyCpu = providers.every((name) => name === 'cpu')
  return new Refusal({
    kind: 'unavailable',
    detail: `The models could not be loaded with ${providers.join(', ')}: ${reason}`,
    field: onlyCpu ? 'models' : FIELD,
    remedy: onlyCpu
      ? 'Install again (npm ci) and start again.'
      : `Install what the provider needs, or choose among ${available()}; without ${FIELD} it is cpu.`,
  })
}
