/** `hooftally retention`: lets empty photos go by the station's rule, or says what that would free. */
import { readRetentionConfig } from '../config/commands.ts'
import { toStationTime } from '../station-time.ts'
import { openStationData } from '../store/data-folder.ts'
import { readKeeping } from '../store/keeping.ts'
import { runRetention, wouldFree } from '../store/retention.ts'
import { readSettings } from '../store/settings.ts'
import { goneBefore, type KeepingRule } from '../tally/keeping.ts'
import type { Instant } from '../words.ts'
import { sayLine } from './say.ts'
import { stopSignal } from './until-stopped.ts'

const HELP = `hooftally retention [--dry-run] [--data DIR]: lets empty photos go by the rule under Keeping photos in Set-up

  --dry-run        changes nothing; says what would be freed
  --empties RULE   keep, shrink or drop instead of the station's rule (with --dry-run only)
  --after-days N   so many days after they came in (with --dry-run only)
  --data DIR       where the station's data lie (data/station in the project's folder)

Photos with animals, flagged, unsure or checked ones and those that wait always stay. The service does the same once a
day. Stopped or killed, it goes on the next time.
`

export async function runRetentionCommand(args: readonly string[]): Promise<number> {
  if (args.includes('--help')) {
    process.stdout.write(HELP)
    return 0
  }
  const { dryRun, empties, afterDays, ...places } = readRetentionConfig(args, process.env)
  const signal = stopSignal()
  const data = await openStationData({ ...places, log: () => undefined, besideService: true })
  try {
    const { zone } = await readSettings(data.ledger)
    const own = (await readKeeping(data.ledger)).rule
    const rule = { empties: empties ?? own.empties, afterDays: afterDays ?? own.afterDays }
    const now = Date.now() as Instant
    sayLine(ruleWords(rule, toStationTime(goneBefore(rule, now), zone)))
    const surroundings = { ledger: data.ledger, files: data.files, now, shouldStop: () => signal.aborted }
    if (dryRun) {
      const { photos, bytes } = await wouldFree(surroundings, rule)
      sayLine(`It would let ${photos} photos go and free ${bytesWords(bytes)}. Nothing was changed.`)
      return 0
    }
    const { photos, bytes, whyNot } = await runRetention(surroundings)
    if (whyNot !== null) {
      sayLine(`Nothing goes while ${whyNot}. Run it again when that is done.`)
      return 1
    }
    sayLine(`${signal.aborted ? 'Stopped. ' : ''}${photos} photos went; ${bytesWords(bytes)} are free again.`)
    return 0
  } finally {
    await data.close()
  }
}

function ruleWords({ empties, afterDays }: KeepingRule, before: string): string {
  if (empties === 'keep') return 'The rule is to keep every photo whole.'
  const what = empties === 'shrink' ? 'are made smaller' : 'are dropped'
  return `Empty photos ${what} ${afterDays} days after they came in: those from before ${before}.`
}

function bytesWords(bytes: number): string {
  return `${bytes} bytes (${(bytes / 1024 ** 2).toFixed(1)} MB)`
}
