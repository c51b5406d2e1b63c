/** How each camera is: what it does, since when and why, and what the last days of it were. */
import { toStationTime } from '../station-time.ts'
import {
  type CameraFigures,
  camerasOfRises,
  RECENT_DAYS,
  readCameraFigures,
} from '../store/camera-figures.ts'
import { type CameraWithSince, listCameras } from '../store/cameras.ts'
import { heardUpTo } from '../store/last-contact.ts'
import type { Ledger } from '../store/open.ts'
import { listPoints } from '../store/points.ts'
import type { Settings } from '../store/settings.ts'
import { listTroubles, listTroubleWords, type TroubleRow } from '../store/troubles.ts'
import type { Instant, Zone } from '../words.ts'
import { cameraOf, isDown, smallUrl, stationTime } from './answers.ts'
import type { CameraState, CameraWatch, CameraWatchAnswer, Trouble } from './camera-shapes.ts'

const TROUBLES_SHOWN = 5
/** Where several things are wrong, the one to see to first. */
const FIRST_TROUBLES = ['card full', 'blind', 'knocked', 'unreadable'] as const

type WordRow = Awaited<ReturnType<typeof listTroubleWords>>[number]

export function troubleOf(row: TroubleRow, words: readonly WordRow[], zone: Zone): Trouble {
  return {
    id: row.id,
    kind: row.kind,
    from: stationTime(row.from_at, zone),
    to: row.to_at && stationTime(row.to_at, zone),
    stillId: row.still_id,
    isFine: row.is_fine,
    words: words
      .filter((word) => word.trouble_id === row.id)
      .map((word) => ({
        word: word.word,
        at: stationTime(word.at, zone),
        who: word.who,
        setRightAt: word.set_right_at && stationTime(word.set_right_at, zone),
        note: word.note,
      })),
  }
}

/** Every camera, those that ask for a look first. */
export async function cameraWatchOf(
  ledger: Ledger,
  { settings, now }: { readonly settings: Settings; readonly now: Instant },
): Promise<CameraWatchAnswer> {
  const [rows, figures, points] = await Promise.all([
    listCameras(ledger).then((cameras) => heardUpTo(ledger, cameras, now)),
    readCameraFigures(ledger, now),
    listPoints(ledger),
  ])
  const rises = await camerasOfRises(
    ledger,
    points.map(({ id }) => id),
    now,
  )
  const names = new Map(points.map(({ id, name }) => [id, name]))
  const cameras = await Promise.all(
    rows.map(async (row) => {
      const troubles = await listTroubles(ledger, row.id)
      const words = troubles.length === 0 ? [] : await listTroubleWords(ledger, row.id)
      const shown = troubles.slice(0, TROUBLES_SHOWN).map((one) => troubleOf(one, words, settings.zone))
      return watchOf(row, {
        figures: figures.get(row.id)!,
        isRise: rises.has(row.id),
        troubles: shown,
        pointName: names.get(row.point_id) ?? '',
        settings,
        now,
      })
    }),
  )
  return { now: toStationTime(now, settings.zone), cameras }
}

interface Known {
  readonly figures: CameraFigures
  /** More of its files came unreadable than its past explains. */
  readonly isRise: boolean
  readonly troubles: readonly Trouble[]
  readonly pointName: string
  readonly settings: Settings
  readonly now: Instant
}

function watchOf(row: CameraWithSince, known: Known): CameraWatch {
  const { figures, settings, now } = known
  const { zone } = settings
  const camera = cameraOf(row, settings, now)
  const at = (date: Date | null) => date && stationTime(date, zone)
  return {
    camera,
    pointName: known.pointName,
    ...stateOf(row, known),
    lastPhoto:
      figures.lastStillId === null || figures.lastStillAt === null
        ? null
        : {
            stillId: figures.lastStillId,
            takenAt: stationTime(figures.lastStillAt, zone),
            smallUrl: smallUrl(figures.lastStillId),
          },
    battery:
      figures.batteryPercent === null || figures.batteryAt === null
        ? null
        : { percent: figures.batteryPercent, at: at(figures.batteryAt)! },
    cardRoom:
      figures.freeBytes === null || figures.freeAt === null
        ? null
        : { bytes: figures.freeBytes, at: at(figures.freeAt)! },
    photosADay: Math.round((10 * figures.recent.files) / RECENT_DAYS) / 10,
    unreadable: {
      files: figures.recent.unreadable,
      of: figures.recent.files,
      rise: known.isRise,
    },
    clock: { inDoubt: figures.inDoubt, why: figures.doubt, stillId: figures.doubtStillId },
    troubles: [...known.troubles],
  }
}

function stateOf(
  row: CameraWithSince,
  { troubles, settings, now }: Known,
): { readonly state: CameraState; readonly since: string | null } {
  const lastContact = row.last_contact_at && stationTime(row.last_contact_at, settings.zone)
  if (!row.is_up) return { state: 'taken down', since: null }
  if (row.last_contact_at === null) return { state: 'new', since: null }
  if (isDown(row.last_contact_at, row.expected_silence_hours, now))
    return { state: 'down', since: lastContact }
  const open = troubles.filter(({ to, isFine }) => to === null && !isFine)
  for (const kind of FIRST_TROUBLES) {
    const trouble = open.find((one) => one.kind === kind)
    if (trouble !== undefined) return { state: kind, since: trouble.from }
  }
  return { state: 'watching', since: null }
}
