/** What a draw is written down as: what there was to draw from, what was drawn, and what people had looked at before. */
import type { Transaction } from 'kysely'
import type { LookDraw } from '../tally/draw-looks.ts'
import { isMissed, type Look, type LookCounts, type LookSide } from '../tally/looks.ts'
import { SPECIES, type Species } from '../words.ts'
import type { WeekLooks } from './audit-week.ts'
import type { Settings } from './settings.ts'
import type { Tables } from './tables.ts'

export async function writeStrata(
  tx: Transaction<Tables>,
  auditId: number,
  { strata }: LookDraw,
): Promise<void> {
  const rows = strata.flatMap(({ side, name, members }) =>
    tallied(members, (look) => `${look.species} ${look.cameraId} ${look.pointId} ${look.light}`).map(
      ([of, looks]) => ({
        audit_id: auditId,
        side,
        stratum: name,
        species: of.species ?? ('none' as const),
        camera_id: of.cameraId,
        point_id: of.pointId,
        light: of.light,
        looks,
      }),
    ),
  )
  if (rows.length > 0) await tx.insertInto('audit_strata').values(rows).execute()
}

export async function writeLooks(
  tx: Transaction<Tables>,
  auditId: number,
  { draw, models }: { readonly draw: LookDraw; readonly models: WeekLooks['models'] },
): Promise<void> {
  if (draw.drawn.length === 0) return
  const rows = await tx
    .insertInto('audit_looks')
    .values(
      draw.drawn.map(({ burst, stratum, side, chance }, place) => ({
        audit_id: auditId,
        side,
        stratum,
        species: burst.species,
        camera_id: burst.cameraId,
        point_id: burst.pointId,
        light: burst.light,
        model_id: models.get(burst.firstStillId) ?? null,
        score: burst.score,
        chance,
        place,
        gap_minutes: burst.gapMinutes,
        machine: JSON.stringify(burst.machine),
      })),
    )
    .returning(['id', 'place'])
    .execute()
  const stills = rows.flatMap(({ id, place }) =>
    draw.drawn[place]!.burst.stillIds.map((stillId) => ({ look_id: id, still_id: stillId })),
  )
  await tx.insertInto('audit_stills').values(stills).execute()
}

/** What was looked at before the draw: for each species how many such looks there were, and how many were hits. */
export async function writeKnown(
  tx: Transaction<Tables>,
  auditId: number,
  { looks, settings }: { readonly looks: readonly Look[]; readonly settings: Settings },
): Promise<void> {
  const rows: Array<{ side: LookSide; species: Species | 'any'; look: Look; hit: boolean }> = []
  for (const look of looks.filter(({ lookedAt }) => lookedAt)) {
    const { side, species, standing, machine } = look
    if (side === 'flagged') {
      if (species !== null) rows.push({ side, species, look, hit: standing[species] !== undefined })
      continue
    }
    for (const one of SPECIES) rows.push({ side, species: one, look, hit: isMissed(one, standing, machine) })
    const hit = SPECIES.some((one) => settings.feral.has(one) && isMissed(one, standing, machine))
    rows.push({ side, species: 'any', look, hit })
  }
  const known = tallied(
    rows,
    ({ side, species, look }) => `${side} ${species} ${look.cameraId} ${look.light}`,
  )
  if (known.length === 0) return
  await tx
    .insertInto('audit_known')
    .values(
      known.map(([{ side, species, look }, count, members]) => ({
        audit_id: auditId,
        side,
        species,
        camera_id: look.cameraId,
        light: look.light,
        looks: count,
        hits: members.filter(({ hit }) => hit).length,
      })),
    )
    .execute()
}

export async function writeCounts(
  tx: Transaction<Tables>,
  auditId: number,
  looks: readonly Look[],
): Promise<void> {
  const rows = tallied(looks, ({ pointId }) => String(pointId)).flatMap(([{ pointId }, , members]) =>
    SPECIES.flatMap((species) => {
      const sum = (of: readonly Look[], counts: (look: Look) => LookCounts, what: 'visits' | 'head') =>
        of.reduce((total, look) => total + (counts(look)[species]?.[what] ?? 0), 0)
      const known = members.filter(({ lookedAt }) => lookedAt)
      const changed = (what: 'visits' | 'head') =>
        sum(known, ({ standing }) => standing, what) - sum(known, ({ machine }) => machine, what)
      const row = {
        audit_id: auditId,
        point_id: pointId,
        species,
        visits: sum(members, ({ machine }) => machine, 'visits'),
        head: sum(members, ({ machine }) => machine, 'head'),
        known_visits: changed('visits'),
        known_head: changed('head'),
      }
      return row.visits === 0 && row.known_visits === 0 && row.known_head === 0 ? [] : [row]
    }),
  )
  if (rows.length > 0) await tx.insertInto('audit_counts').values(rows).execute()
}

/** The things by what they have in common: the first of each, how many, and all of them. */
function tallied<T>(things: readonly T[], nameOf: (thing: T) => string): Array<[T, number, readonly T[]]> {
  const groups = new Map<string, T[]>()
  for (const thing of things) {
    const group = groups.get(nameOf(thing))
    if (group === undefined) groups.set(nameOf(thing), [thing])
    else group.push(thing)
  }
  return [...groups.values()].map((group) => [group[0]!, group.length, group])
}
