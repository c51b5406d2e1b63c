/** `hooftally import FOLDER --camera NAME`: takes in the photos of a card or a folder. May be stopped and run again. */
import { readdir, readFile, stat } from 'node:fs/promises'
import { join, relative, sep } from 'node:path'
import { type ImportConfig, readImportConfig } from '../config/commands.ts'
import { openIntakeDesk } from '../intake/desk.ts'
import { MAX_STILL_BYTES, takeStill } from '../intake/receive-still.ts'
import { Refusal } from '../refusal.ts'
import { toStationTime } from '../station-time.ts'
import { findCameraByName } from '../store/cameras.ts'
import { openStationData, type StationData } from '../store/data-folder.ts'
import { wakeService } from '../store/notices.ts'
import { readSettings } from '../store/settings.ts'
import type { Instant } from '../words.ts'
import { sayLine } from './say.ts'

const HELP = `hooftally import FOLDER --camera NAME [--data DIR]: takes in the photos of a card or a folder

Every file under FOLDER is taken, in the order of their names. Files already taken are known again by their bytes, so the
command may be stopped and run again. What is no photo is kept as unreadable. Files and folders whose names begin with a dot are left.
`
const LINE_EVERY_MS = 2_000
const WAKE_EVERY_FILES = 100

interface Counts {
  added: number
  known: number
  unreadable: number
  doubtful: number
  failed: number
  first: Instant | null
  last: Instant | null
}

export async function runImport(args: readonly string[]): Promise<number> {
  if (args.includes('--help')) {
    process.stdout.write(HELP)
    return 0
  }
  const config = readImportConfig(args, process.env)
  const files = await listFiles(config.folder)
  const data = await openStationData({
    ...config,
    log: () => undefined,
    besideService: true,
  })
  let stopping = false
  const ask = () => {
    stopping = true
  }
  process.once('SIGINT', ask)
  process.once('SIGTERM', ask)
  try {
    const counts = await importAll(data, { config, files, shouldStop: () => stopping })
    await sayCounts(data, { counts, files: files.length, stopped: stopping })
    return counts.failed > 0 ? 1 : 0
  } finally {
    process.off('SIGINT', ask)
    process.off('SIGTERM', ask)
    await data.close()
  }
}

async function importAll(
  data: StationData,
  {
    config,
    files,
    shouldStop,
  }: { config: ImportConfig; files: readonly string[]; shouldStop: () => boolean },
): Promise<Counts> {
  await readSettings(data.ledger)
  const camera = await findCameraByName(data.ledger, config.camera)
  const intake = { desk: openIntakeDesk(data.ledger), files: data.files, onReceived: () => undefined }
  const counts: Counts = {
    added: 0,
    known: 0,
    unreadable: 0,
    doubtful: 0,
    failed: 0,
    first: null,
    last: null,
  }
  let lineAt = Date.now() + LINE_EVERY_MS
  for (const [index, path] of files.entries()) {
    if (shouldStop()) break
    try {
      const info = await stat(path)
      if (info.size > MAX_STILL_BYTES) throw new Error(`larger than ${MAX_STILL_BYTES / 1024 / 1024} MB`)
      const still = await takeStill(intake, {
        camera,
        bytes: await readFile(path),
        fileName: relative(config.folder, path),
        fileTime: Math.round(info.mtimeMs) as Instant,
        senderAt: null,
        byHand: true,
        arrivedAt: Date.now() as Instant,
      })
      if (still.known) counts.known += 1
      else counts.added += 1
      if (still.state === 'unreadable') counts.unreadable += 1
      if (still.clockDoubt !== null) counts.doubtful += 1
      else if (still.state !== 'unreadable') {
        counts.first = Math.min(counts.first ?? still.takenAt, still.takenAt) as Instant
        counts.last = Math.max(counts.last ?? still.takenAt, still.takenAt) as Instant
      }
    } catch (fault) {
      if (fault instanceof Refusal && fault.kind !== 'too large') throw fault
      counts.failed += 1
      process.stderr.write(`${path}: not taken: ${fault instanceof Error ? fault.message : String(fault)}\n`)
    }
    if ((index + 1) % WAKE_EVERY_FILES === 0) await wakeService(data.ledger)
    if (Date.now() >= lineAt) {
      sayLine(`${index + 1} of ${files.length}: ${counts.added} new, ${counts.known} known`)
      lineAt = Date.now() + LINE_EVERY_MS
    }
  }
  await wakeService(data.ledger)
  return counts
}

async function sayCounts(
  data: StationData,
  { counts, files, stopped }: { counts: Counts; files: number; stopped: boolean },
): Promise<void> {
  const { zone } = await readSettings(data.ledger)
  const span =
    counts.first === null || counts.last === null
      ? ''
      : `, taken ${toStationTime(counts.first, zone)} to ${toStationTime(counts.last, zone)}`
  sayLine(
    `${stopped ? 'Stopped. ' : ''}${files} files: ${counts.added} new, ${counts.known} known, ${counts.unreadable} unreadable, ${counts.doubtful} with a doubtful clock, ${counts.failed} not taken${span}.`,
  )
  if (stopped) sayLine('Run the same command again to go on.')
  else if (data.postgres !== null && counts.added > 0) {
    sayLine('The service is not running: it will look at them when it starts.')
  }
}

async function listFiles(folder: string): Promise<string[]> {
  let entries: Awaited<ReturnType<typeof readEntries>>
  try {
    entries = await readEntries(folder)
  } catch (fault) {
    throw new Refusal({
      kind: 'not found',
      detail: `${folder} could not be read (${fault instanceof Error ? fault.message : String(fault)}).`,
      field: 'FOLDER',
      remedy: 'Check that the card is in and that the name of the folder is right.',
    })
  }
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((path) => !isHidden(relative(folder, path)))
    .sort()
}

/** A card's bin and thumbnails lie in folders that begin with a dot. */
function isHidden(path: string): boolean {
  return path.split(sep).some((part) => part.startsWith('.'))
}

function readEntries(folder: string) {
  return readdir(folder, { recursive: true, withFileTypes: true })
}
