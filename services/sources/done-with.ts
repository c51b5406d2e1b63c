/** What becomes of a file of a drop folder that is done with, and the note of it where it still lies there. */
import type { CameraRow } from '../store/cameras.ts'
import { noteDroppedFile } from '../store/dropped-files.ts'
import type { DropFolderSettings } from './drop-folder.ts'
import { ASIDE_FOLDER, TAKEN_FOLDER } from './drop-roots.ts'
import { type FileStamp, stampOf } from './list-dropped.ts'
import type { SourcePlace } from './place.ts'
import { moveWithin, removeWithin } from './put-away.ts'

interface DoneWith {
  readonly sourceId: number
  readonly settings: DropFolderSettings
  /** A real path. */
  readonly folder: string
  readonly file: FileStamp
}

/** The photo is safe: what becomes of its file. @returns why it could not be, in words */
export async function putAway(
  place: SourcePlace,
  { sourceId, settings, folder, file }: DoneWith,
): Promise<string | null> {
  const leave = () => noteDroppedFile(place.ledger, sourceId, { ...file, reason: null, at: place.now() })
  if (settings.afterwards === 'leave') {
    await leave()
    return null
  }
  try {
    if (settings.afterwards === 'remove') await removeWithin(folder, file.path)
    else await moveWithin(folder, { path: file.path, under: TAKEN_FOLDER })
    return null
  } catch (fault) {
    // It must not be read again and again.
    await leave()
    return fault instanceof Error ? fault.message : String(fault)
  }
}

/** Kept, with the reason, where nobody reads it again. */
export async function setAside(
  place: SourcePlace,
  order: DoneWith & { readonly camera: CameraRow; readonly reason: string },
): Promise<string | null> {
  const { sourceId, settings, folder, file, reason } = order
  const note = { ...file, reason, at: place.now() }
  place.log.warn(`drop folder of ${order.camera.name}: ${file.path} set aside: ${reason}`)
  if (settings.afterwards === 'leave') {
    await noteDroppedFile(place.ledger, sourceId, note)
    return null
  }
  try {
    const path = await moveWithin(folder, { path: file.path, under: ASIDE_FOLDER })
    const stamp = await stampOf(folder, path)
    await noteDroppedFile(place.ledger, sourceId, { ...note, ...(stamp ?? { path }) })
    return null
  } catch (fault) {
    await noteDroppedFile(place.ledger, sourceId, note)
    return fault instanceof Error ? fault.message : String(fault)
  }
}
