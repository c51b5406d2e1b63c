/** A folder on this machine in which somebody else leaves a camera's photos: an FTP server, a sync tool, a person. */
import { setTimeout as wait } from 'node:timers/promises'
import { z } from 'zod'
import { Refusal } from '../refusal.ts'
import type { ReceivedStill } from '../store/receive.ts'
import { listSources } from '../store/sources.ts'
import type { Instant } from '../words.ts'
import { folderWithin, isInside } from './drop-roots.ts'
import { MOST_FILES } from './list-dropped.ts'
import { lookIntoFolder } from './look-into-folder.ts'
import type { SourcePlace } from './place.ts'
import type { Look, LookOrder, SourceKind } from './source.ts'

export const AFTERWARDS = ['move', 'remove', 'leave'] as const

const door = z.strictObject({
  folder: z
    .string()
    .trim()
    .min(1)
    .max(1_000)
    .refine((path) => !path.includes('\0'), { error: 'holds a NUL character' }),
  /** What becomes of a file whose photo is safe. */
  afterwards: z.enum(AFTERWARDS).default('move'),
  /** A file that has not changed for so long is read. */
  quietSeconds: z.number().min(1).max(3_600).default(10),
  everySeconds: z.number().min(2).max(3_600).default(10),
  /** A file that can't be read is set aside when it has not changed for so long. */
  patienceMinutes: z.number().min(1).max(1_440).default(30),
})
export type DropFolderSettings = z.output<typeof door>

/** That no other source reads the same files was seen; asked anew with other settings. */
const state = z.object({ isOwn: z.boolean() })
type State = z.output<typeof state>

/** A person who asks waits for so long between two looks at what is there. */
const ASKED_QUIET_MS = 1_500
/** The owner may raise the limit meanwhile. */
const LONGEST_WAIT_SECONDS = 600

export const dropFolder: SourceKind<DropFolderSettings, State> = {
  name: 'drop folder',
  door,
  state,
  fresh: { isOwn: false },
  shown: (settings) => settings,
  changed: (before, given) => ({ ...before, ...given }),
  async refuse(settings, place) {
    await folderWithin(place.dropRoots, settings.folder)
  },
  look,
}

async function look(place: SourcePlace, order: LookOrder<DropFolderSettings, State>): Promise<Look<State>> {
  const { settings, asked } = order
  let { isOwn } = order.state
  const next = (seconds: number) => (place.now() + seconds * 1_000) as Instant
  const answer = (
    outcome: Look<State>['outcome'],
    words: string | null,
    {
      came = [],
      seconds = settings.everySeconds,
    }: { came?: readonly ReceivedStill[]; seconds?: number } = {},
  ): Look<State> => ({ outcome, came, words, state: { isOwn }, nextAt: next(seconds) })

  try {
    const folder = await folderWithin(place.dropRoots, settings.folder)
    if (!isOwn) await refuseShared(place, { sourceId: order.sourceId, folder })
    isOwn = true
    if (asked) {
      await lookIntoFolder(place, { ...order, folder, quietMs: Number.POSITIVE_INFINITY })
      await wait(ASKED_QUIET_MS, undefined, { signal: order.stop }).catch(() => undefined)
    }
    const quietMs = asked ? ASKED_QUIET_MS : settings.quietSeconds * 1_000
    const found = await lookIntoFolder(place, { ...order, folder, quietMs })
    const { came } = found
    if (found.waitsFor !== null) {
      const wait = Math.min(LONGEST_WAIT_SECONDS, found.waitsFor.retryAfterSeconds ?? 0)
      const seconds = Math.max(settings.everySeconds, wait)
      return answer('waits', `${found.waitsFor.message} What is in the folder waits there.`, {
        came,
        seconds,
      })
    }
    if (found.notPutAway !== null)
      return answer('failed', `Photos come in, but a file could not be put away: ${found.notPutAway}.`, {
        came,
      })
    if (!found.isAll)
      return answer(
        'failed',
        `Over ${MOST_FILES} files lie in the folder; the rest are not looked at. Have them moved or deleted once their photos are safe.`,
        { came },
      )
    const words = asked && came.length === 0 ? nothingWords(found) : null
    return answer('well', words, { came, ...(found.isMore && { seconds: 0 }) })
  } catch (fault) {
    if (!(fault instanceof Refusal)) throw fault
    return answer('failed', `${fault.message} ${fault.remedy}`)
  }
}

/** @throws Refusal where another source reads the same files: each photo would be two cameras'. */
async function refuseShared(
  place: SourcePlace,
  { sourceId, folder }: { readonly sourceId: number; readonly folder: string },
): Promise<void> {
  for (const other of await listSources(place.ledger)) {
    if (other.kind !== 'drop folder' || other.id === sourceId) continue
    // The first to be there keeps it.
    if (other.id > sourceId && state.safeParse(other.state).data?.isOwn !== true) continue
    const settings = door.parse(other.settings)
    const theirs = await folderWithin(place.dropRoots, settings.folder).catch(() => null)
    if (theirs === null || !(isInside(theirs, folder) || isInside(folder, theirs))) continue
    throw new Refusal({
      kind: 'conflict',
      detail: `The folder ${settings.folder} is another way in already, and one of the two lies in the other.`,
      field: 'settings.folder',
      remedy: 'Give each camera a folder of its own.',
    })
  }
}

function nothingWords({ waiting, unread }: { readonly waiting: number; readonly unread: number }): string {
  if (unread > 0)
    return `The folder can be read. What is there cannot be read as a photo yet (${unread}); it is tried again before it is set aside.`
  if (waiting > 0) return `The folder can be read. What is there is still changing (${waiting}).`
  return 'The folder can be read; there is no new photo in it.'
}
