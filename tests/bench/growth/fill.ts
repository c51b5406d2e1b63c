/** Fills a ledger with a made-up history through COPY. */
import { once } from 'node:events'
import pg from 'pg'
import { type CopyStreamQuery, from as copyFrom } from 'pg-copy-streams'
import { addCamera } from '../../../services/store/camera-setup.ts'
import { type Ledger, openLedger } from '../../../services/store/open.ts'
import { addPoint } from '../../../services/store/points.ts'
import { saveSettings } from '../../../services/store/settings.ts'
import { secondsWithin } from '../../../services/tally/effort.ts'
import { nightSpell } from '../../../services/tally/nights.ts'
import type { Instant } from '../../../services/words.ts'
import {
  COPIED,
  type CopiedTable,
  checkText,
  detectionText,
  type Ids,
  nightText,
  sightingText,
  stillText,
  visitTexts,
} from './copy-text.ts'
import { countNight } from './counts.ts'
import { type HistoryPlan, nightsOfHistory } from './history.ts'
import { heartbeatsOf, scheduleOf, watchedAt } from './schedule.ts'

export const VISIT_GAP_MINUTES = 30
const TABLES = Object.keys(COPIED) as CopiedTable[]
const KEPT_BYTES_A_STILL = 50_000

/** Sets the station up, copies its history in, and leaves the ledger as years of use would: indexed, vacuumed, analysed. */
export async function fill(url: string, plan: HistoryPlan): Promise<void> {
  const ledger = await openLedger(url)
  try {
    const ids = await setUp(ledger, plan)
    await withoutIndexes(url, async () => await copyHistory(url, plan, ids))
  } finally {
    await ledger.destroy()
  }
  await onConnection(url, async (client) => {
    await client.query(
      `update cameras c set stills = n.stills, still_bytes = n.stills * ${KEPT_BYTES_A_STILL}, unreadable = n.unreadable,
         last_contact_at = greatest(n.last_at, (select max(at) from heartbeats where camera_id = c.id))
       from (select camera_id, count(*) as stills, count(*) filter (where state = 'unreadable') as unreadable,
               max(taken_at) filter (where clock_doubt is null) as last_at from stills group by camera_id) n
       where n.camera_id = c.id`,
    )
    await client.query(`select setval(pg_get_serial_sequence('stills', 'id'), (select max(id) from stills))`)
    await client.query('vacuum (analyze)')
  })
}

async function setUp(ledger: Ledger, plan: HistoryPlan): Promise<Ids> {
  const homestead = { lat: -28.4, lon: 134.2 }
  await saveSettings(
    ledger,
    {
      name: 'Made-up Station',
      zone: plan.zone,
      homestead,
      visitGapMinutes: VISIT_GAP_MINUTES,
      cattleAwayHours: 72,
      species: [],
    },
    { count: 0.5, flag: 0.35 },
  )
  const schedule = scheduleOf(plan)
  const since = nightSpell(plan.nights[0]!, plan.zone).from
  const ids = { points: [] as number[], cameras: [] as number[] }
  for (let point = 0; point < plan.points; point += 1) {
    const { id } = await addPoint(ledger, {
      name: `Bore ${point + 1}`,
      kind: 'bore',
      lat: homestead.lat + Math.floor(point / 20) / 20,
      lon: homestead.lon + (point % 20) / 20,
      hasYard: point % 3 === 0,
      lowMarkPercent: 40,
      dryMarkPercent: 5,
    })
    ids.points.push(id)
    for (let index = 0; index < plan.camerasPerPoint; index += 1) {
      const { camera } = await addCamera(
        ledger,
        {
          name: `bore ${point + 1} camera ${index + 1}`,
          pointId: id,
          zone: null,
          clockErrorSeconds: 0,
          expectedSilenceHours: 26,
          sendsHeartbeats: schedule.sendsHeartbeats(ids.cameras.length),
          scheduleMinutes: null,
        },
        since,
      )
      ids.cameras.push(camera.id)
    }
  }
  const sha = (letter: string) => letter.repeat(64)
  const model = await ledger
    .insertInto('models')
    .values({ name: 'made-up', version: '1', detector_sha256: sha('d'), namer_sha256: sha('a') })
    .returning('id')
    .executeTakeFirstOrThrow()
  return { ...ids, model: model.id }
}

async function copyHistory(url: string, plan: HistoryPlan, ids: Ids): Promise<void> {
  const copies = new Map<CopiedTable, Copy>()
  for (const table of TABLES) copies.set(table, await startCopy(url, table))
  const put = async (table: CopiedTable, text: string) => await copies.get(table)!.put(text)
  const lastPhotoAt = new Map<number, Instant>()
  for (const { night, stills } of nightsOfHistory(plan)) {
    for (const still of stills) if (!still.clockInDoubt) lastPhotoAt.set(still.camera, still.takenAt)
    const counted = countNight(stills, VISIT_GAP_MINUTES)
    await put('stills', stills.map((still) => stillText(still, ids)).join(''))
    await put(
      'detections',
      stills.flatMap(({ id, boxes }) => boxes.map((box) => detectionText(id, box))).join(''),
    )
    await put('checks', stills.map((still) => (still.check === null ? '' : checkText(still))).join(''))
    await put('sightings', stills.map((still) => sightingText(still, ids)).join(''))
    await put('visits', counted.map((one) => visitTexts(one, night, ids)).join(''))
    await put('nights', counted.map((one) => nightText(one, night, ids)).join(''))
  }
  const schedule = scheduleOf(plan)
  for (const [point, pointId] of ids.points.entries()) {
    const watched = watchedAt(plan, schedule, {
      point,
      lastPhotoAt: (camera) => lastPhotoAt.get(camera) ?? null,
    })
    const effort = plan.nights.map((night) => {
      const seconds = secondsWithin(watched, nightSpell(night, plan.zone))
      return seconds > 0 ? `${pointId}\t${night}\t${seconds}\n` : ''
    })
    await put('effort', effort.join(''))
  }
  for (const [camera, cameraId] of ids.cameras.entries()) {
    const beats = heartbeatsOf(plan, schedule, camera).map((at) => {
      const iso = new Date(at).toISOString()
      return `${cameraId}\t${iso}\t${iso}\n`
    })
    await put('heartbeats', beats.join(''))
  }
  for (const copy of copies.values()) await copy.end()
}

interface Copy {
  put(text: string): Promise<void>
  end(): Promise<void>
}

async function startCopy(url: string, table: CopiedTable): Promise<Copy> {
  const client = new pg.Client({ connectionString: url })
  await client.connect()
  // The rows point at each other across tables that are copied side by side, and they are known to be whole.
  await client.query('set session_replication_role = replica')
  const stream: CopyStreamQuery = client.query(
    copyFrom(`copy ${table} (${COPIED[table].join(', ')}) from stdin`),
  )
  // Heard again by whoever waits; without a listener of its own a fault between two waits would end the process.
  let fault: unknown = null
  stream.on('error', (error) => {
    fault = error
  })
  const check = () => {
    if (fault !== null) throw fault
  }
  return {
    put: async (text) => {
      check()
      if (text !== '' && !stream.write(text)) await once(stream, 'drain')
    },
    end: async () => {
      check()
      const done = once(stream, 'finish')
      stream.end()
      await done
      await client.end()
    },
  }
}

interface Definition {
  readonly drop: string
  readonly create: string
}

/** Indexes and unique constraints are made after the rows: row by row they would take many times as long. */
async function withoutIndexes(url: string, copy: () => Promise<void>): Promise<void> {
  const definitions = await onConnection(url, async (client) => {
    const { rows } = await client.query<Definition>(
      `select format('alter table %s drop constraint %I', conrelid::regclass, conname) as drop,
         format('alter table %s add constraint %I %s', conrelid::regclass, conname, pg_get_constraintdef(oid)) as create
       from pg_constraint where contype = 'u' and conrelid = any($1::regclass[])
       union all
       select format('drop index %s', indexrelid::regclass), pg_get_indexdef(indexrelid)
       from pg_index where indrelid = any($1::regclass[])
         and not exists (select from pg_constraint where conindid = indexrelid)`,
      [TABLES],
    )
    for (const { drop } of rows) await client.query(drop)
    return rows
  })
  await copy()
  await onConnection(url, async (client) => {
    await client.query(`set maintenance_work_mem = '1GB'`)
    for (const { create } of definitions) await client.query(create)
  })
}

async function onConnection<T>(url: string, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString: url })
  await client.connect()
  try {
    return await work(client)
  } finally {
    await client.end()
  }
}
