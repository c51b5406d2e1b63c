/** Gate plans that were kept: each change is a version of its own, and a withdrawn plan can still be read. */
import { sql } from 'kysely'
import type { KeptYardPlan, YardPlanFigures } from '../planning/yard-plan.ts'
import { Refusal } from '../refusal.ts'
import type { Instant } from '../words.ts'
import { toDate, toInstant } from './instants.ts'
import type { Ledger } from './open.ts'
import type { LedgerOrTransaction } from './settings.ts'
import type { Said } from './yard-words.ts'

export interface YardPlanVersion {
  readonly planId: number
  readonly version: number
  readonly at: Instant
  readonly who: string
  readonly withdrawn: boolean
  readonly plan: KeptYardPlan
  readonly shown: YardPlanFigures
}

export interface PlanToKeep {
  readonly plan: KeptYardPlan
  readonly shown: YardPlanFigures
}

/** The latest version of each plan that is not withdrawn, the one kept last first. */
export async function listYardPlans(ledger: Ledger): Promise<YardPlanVersion[]> {
  const rows = await ledger
    .selectFrom('yard_plan_versions')
    .distinctOn('plan_id')
    .selectAll()
    .orderBy('plan_id')
    .orderBy('version', 'desc')
    .execute()
  return rows
    .map(versionOf)
    .filter(({ withdrawn }) => !withdrawn)
    .sort((a, b) => b.at - a.at || b.planId - a.planId)
}

/** Every version, the latest first. @throws Refusal where there is no such plan */
export async function findYardPlan(ledger: LedgerOrTransaction, planId: number): Promise<YardPlanVersion[]> {
  const rows = await ledger
    .selectFrom('yard_plan_versions')
    .selectAll()
    .where('plan_id', '=', planId)
    .orderBy('version', 'desc')
    .execute()
  if (rows.length > 0) return rows.map(versionOf)
  throw new Refusal({
    kind: 'not found',
    detail: `There is no plan ${planId}.`,
    field: 'id',
    remedy: 'Open Trap yards and choose one of the plans that are kept.',
  })
}

export async function keepYardPlan(ledger: Ledger, kept: PlanToKeep, said: Said): Promise<YardPlanVersion> {
  return await ledger.transaction().execute(async (tx) => {
    const { id } = await tx
      .insertInto('yard_plans')
      .values({ made_at: toDate(said.now) })
      .returning('id')
      .executeTakeFirstOrThrow()
    return await addVersion(tx, { planId: id, version: 1, withdrawn: false, ...kept }, said)
  })
}

/** `version`: the one it was made from. @throws Refusal where somebody has changed the plan since, or withdrawn it */
export async function changeYardPlan(
  ledger: Ledger,
  { planId, version, ...kept }: PlanToKeep & { readonly planId: number; readonly version: number },
  said: Said,
): Promise<YardPlanVersion> {
  return await nextVersion(ledger, { planId, version }, said, () => kept)
}

/** A withdrawn plan is on no list any more; it stays as it was. @throws Refusal as above */
export async function withdrawYardPlan(
  ledger: Ledger,
  which: { readonly planId: number; readonly version: number },
  said: Said,
): Promise<YardPlanVersion> {
  return await nextVersion(ledger, which, said, ({ plan, shown }) => ({ plan, shown, withdrawn: true }))
}

async function nextVersion(
  ledger: Ledger,
  { planId, version }: { readonly planId: number; readonly version: number },
  said: Said,
  made: (latest: YardPlanVersion) => PlanToKeep & { readonly withdrawn?: boolean },
): Promise<YardPlanVersion> {
  return await ledger.transaction().execute(async (tx) => {
    // Two at once take turns, so that the second is told of the first.
    await sql`select from yard_plans where id = ${planId} for update`.execute(tx)
    const latest = (await findYardPlan(tx, planId))[0]!
    if (latest.withdrawn || latest.version !== version) throw changedSince(latest)
    return await addVersion(tx, { planId, version: version + 1, withdrawn: false, ...made(latest) }, said)
  })
}

function changedSince({ planId, version, who, withdrawn }: YardPlanVersion): Refusal {
  return new Refusal({
    kind: 'conflict',
    detail: withdrawn
      ? `Plan ${planId} has been withdrawn by ${who}.`
      : `Plan ${planId} has been changed by ${who}; it is at version ${version}.`,
    field: 'version',
    remedy: withdrawn ? 'Keep yours as a new plan.' : 'Open the plan again and make your change to it.',
  })
}

async function addVersion(
  tx: LedgerOrTransaction,
  one: Omit<YardPlanVersion, 'at' | 'who'>,
  { who, now }: Said,
): Promise<YardPlanVersion> {
  const row = await tx
    .insertInto('yard_plan_versions')
    .values({
      plan_id: one.planId,
      version: one.version,
      at: toDate(now),
      who,
      withdrawn: one.withdrawn,
      plan: JSON.stringify(one.plan),
      shown: JSON.stringify(one.shown),
    })
    .returningAll()
    .executeTakeFirstOrThrow()
  return versionOf(row)
}

interface Row {
  readonly plan_id: number
  readonly version: number
  readonly at: Date
  readonly who: string
  readonly withdrawn: boolean
  readonly plan: KeptYardPlan
  readonly shown: YardPlanFigures
}

const versionOf = (row: Row): YardPlanVersion => ({
  planId: row.plan_id,
  version: row.version,
  at: toInstant(row.at),
  who: row.who,
  withdrawn: row.withdrawn,
  plan: row.plan,
  shown: row.shown,
})
