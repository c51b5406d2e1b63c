/** The station's own settings: name, zone, the visit gap, and what each species is to the owner. */
import type { Transaction } from 'kysely'
import { Refusal } from '../refusal.ts'
import {
  type Role,
  SPECIES,
  type Species,
  type Thresholds,
  type ThresholdsBySpecies,
  type Zone,
} from '../words.ts'
import type { Ledger } from './open.ts'
import { askForRecount, changesCounts } from './recount-asked.ts'
import type { Tables } from './tables.ts'

export type LedgerOrTransaction = Ledger | Transaction<Tables>

export interface Settings {
  readonly name: string
  readonly zone: Zone
  readonly homestead: { readonly lat: number; readonly lon: number }
  readonly visitGapMinutes: number
  readonly cattleAwayHours: number
  readonly demo: boolean
  readonly roles: Readonly<Record<Species, Role>>
  readonly thresholds: ThresholdsBySpecies
  readonly feral: ReadonlySet<Species>
}

/** What an owner may set; a species left out keeps what it had, or gets the defaults given beside it. */
export interface SettingsChange {
  readonly name: string
  readonly zone: Zone
  readonly homestead: { readonly lat: number; readonly lon: number }
  readonly visitGapMinutes: number
  readonly cattleAwayHours: number
  readonly demo?: boolean
  readonly species: ReadonlyArray<{
    readonly species: Species
    readonly role?: Role | undefined
    readonly countThreshold?: number | undefined
    readonly flagThreshold?: number | undefined
  }>
}

/** The settings, or null before the station has been set up. */
export async function findSettings(ledger: LedgerOrTransaction): Promise<Settings | null> {
  const rows = await ledger
    .selectFrom('station')
    .innerJoin('species_settings', (join) => join.onTrue())
    .selectAll()
    .execute()
  const [station] = rows
  if (station === undefined) return null
  const roles = {} as Record<Species, Role>
  const thresholds = {} as Record<Species, Thresholds>
  for (const row of rows) {
    roles[row.species] = row.role
    thresholds[row.species] = { count: row.count_threshold, flag: row.flag_threshold }
  }
  return {
    name: station.name,
    zone: station.zone as Zone,
    homestead: { lat: station.homestead_lat, lon: station.homestead_lon },
    visitGapMinutes: station.visit_gap_minutes,
    cattleAwayHours: station.cattle_away_hours,
    demo: station.demo,
    roles,
    thresholds,
    feral: new Set(SPECIES.filter((species) => roles[species] === 'feral')),
  }
}

/** The settings; a Refusal where the station has not been set up yet. */
export async function readSettings(ledger: LedgerOrTransaction): Promise<Settings> {
  const settings = await findSettings(ledger)
  if (settings !== null) return settings
  throw new Refusal({
    kind: 'conflict',
    detail: 'The station has not been set up yet.',
    field: 'station',
    remedy: 'Open the view, give the station a name, a zone and a homestead in Set-up, then try again.',
  })
}

/**
 * Writes the settings, and that everything is to be counted again where counts depend on what changed. `defaults` are the manifest's thresholds, for a species that has none yet. Cattle are stock by default.
 */
export async function saveSettings(
  ledger: Ledger,
  change: SettingsChange,
  defaults: Thresholds,
): Promise<Settings> {
  return await ledger.transaction().execute(async (tx) => {
    const before = await findSettings(tx)
    const row = {
      id: 1,
      name: change.name,
      zone: change.zone,
      homestead_lat: change.homestead.lat,
      homestead_lon: change.homestead.lon,
      visit_gap_minutes: change.visitGapMinutes,
      cattle_away_hours: change.cattleAwayHours,
      demo: change.demo ?? before?.demo ?? false,
    }
    await tx
      .insertInto('station')
      .values(row)
      .onConflict((conflict) => conflict.column('id').doUpdateSet(row))
      .execute()
    for (const species of SPECIES) {
      const given = change.species.find((one) => one.species === species)
      const values = {
        species,
        role:
          given?.role ??
          before?.roles[species] ??
          (species === 'cattle' ? ('stock' as const) : ('feral' as const)),
        count_threshold: given?.countThreshold ?? before?.thresholds[species].count ?? defaults.count,
        flag_threshold: given?.flagThreshold ?? before?.thresholds[species].flag ?? defaults.flag,
      }
      if (values.flag_threshold > values.count_threshold) {
        throw new Refusal({
          kind: 'bad input',
          detail: `For ${species} the worth-a-look mark (${values.flag_threshold}) is above the counting mark (${values.count_threshold}).`,
          field: 'species.flagThreshold',
          remedy: 'Set the worth-a-look mark at or below the counting mark.',
        })
      }
      await tx
        .insertInto('species_settings')
        .values(values)
        .onConflict((conflict) => conflict.column('species').doUpdateSet(values))
        .execute()
    }
    const after = await readSettings(tx)
    // In the same transaction: a kill can't leave new marks with a recount that nobody asked for.
    if (before !== null && changesCounts(before, after)) await askForRecount(tx)
    return after
  })
}
