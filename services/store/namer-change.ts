/** Turns the station's own namer on and off; what it has named gets the models' names back when it is turned off. */
import { Refusal } from '../refusal.ts'
import type { Instant, ModelIdentity, NightDate } from '../words.ts'
import { presentModels } from './namer-in-use.ts'
import { changeNamerSettings, type NamerChange, type NamerSettings, readNamerSettings } from './namers.ts'
import type { Ledger } from './open.ts'
import { startRerun, stopRerunOfOtherModels } from './reruns.ts'

/** All nights: before the first believed date of a camera, and after every date that a photo may bear. */
export const FIRST_NIGHT = '1000-01-01' as NightDate
export const LAST_NIGHT = '9999-12-31' as NightDate

/**
 * Writes what the owner wants. A re-run towards other names ends; turned off, one begins that puts the models' names back
 * wherever the station's namer has spoken.
 */
export async function turnNamer(
  ledger: Ledger,
  change: NamerChange,
  { models, now }: { readonly models: ModelIdentity; readonly now: Instant },
): Promise<NamerSettings> {
  const before = await readNamerSettings(ledger)
  const after = await changeNamerSettings(ledger, change)
  const present = await presentModels(ledger, models)
  await stopRerunOfOtherModels(ledger, present)
  if (before.isOn && !after.isOn) await putNamesBack(ledger, { models: present, now })
  return after
}

async function putNamesBack(
  ledger: Ledger,
  given: { readonly models: ModelIdentity; readonly now: Instant },
): Promise<void> {
  const everything = {
    fromNight: FIRST_NIGHT,
    toNight: LAST_NIGHT,
    pointIds: null,
    cameraIds: null,
    unreadableToo: false,
    namesOnly: true,
  }
  try {
    await startRerun(ledger, everything, given)
  } catch (fault) {
    // It has named nothing, or whatever is under way leads to the models' names as well.
    if (!(fault instanceof Refusal) || fault.kind !== 'conflict') throw fault
  }
}
