/**
 * `npm run faults -- [--seed N] [--kills N] [--photos N] [--only embedded|scaled]`: kills at random, and counts what is
 * left. With `--soak [--seed N] [--minutes N]` every way in is troubled instead, for an hour of a station's clock.
 */
import { parseArgs } from 'node:util'
import { z } from 'zod'
import { drive, type Household } from './drive.ts'
import { openEmbedded } from './embedded.ts'
import { openScaled } from './scaled.ts'
import { soak } from './soak.ts'

const number = z.coerce.number().int().positive()
const HOUSEHOLDS: Readonly<Record<string, () => Promise<Household>>> = {
  embedded: openEmbedded,
  scaled: openScaled,
}
const optionsShape = z.object({
  seed: number.default(() => Math.floor(Math.random() * 1_000_000) + 1),
  kills: number.default(200),
  photos: number.default(2_000),
  only: z.enum(['embedded', 'scaled']).optional(),
  soak: z.boolean().default(false),
  minutes: number.default(60),
})

const { values } = parseArgs({
  options: {
    seed: { type: 'string' },
    kills: { type: 'string' },
    photos: { type: 'string' },
    only: { type: 'string' },
    soak: { type: 'boolean' },
    minutes: { type: 'string' },
  },
})
const options = optionsShape.parse(values)
const log = (line: string) => process.stdout.write(`${line}\n`)
if (options.soak) {
  const steps = options.minutes * 6
  log(`soak: seed ${options.seed}, ${options.minutes} minutes of the station's clock`)
  const { told, faults } = await soak({ seed: options.seed, steps, restarts: Math.ceil(steps / 30), log })
  for (const line of told) log(`  ${line}`)
  for (const fault of faults) log(`  FAULT ${fault}`)
  log(faults.length === 0 ? '  every photo that was answered for is there once' : `  ${faults.length} faults`)
  process.exit(faults.length === 0 ? 0 : 1)
}
const kinds = Object.entries(HOUSEHOLDS).filter(
  ([kind]) => options.only === undefined || kind === options.only,
)

for (const [kind, open] of kinds) {
  const share = {
    kills: Math.ceil(options.kills / kinds.length),
    photos: Math.ceil(options.photos / kinds.length),
  }
  log(`${kind}: seed ${options.seed}, ${share.kills} kills, ${share.photos} photos`)
  const household = await open()
  try {
    const { killed, acknowledged, repeats, faults } = await drive(household, { ...options, ...share, log })
    for (const [name, times] of Object.entries(killed)) log(`  ${name}: killed ${times} times`)
    log(`  ${acknowledged} photos acknowledged, ${repeats} of them sent twice`)
    for (const fault of faults) log(`  FAULT ${fault}`)
    log(
      faults.length === 0
        ? '  every one is there once and done once; what is kept equals a recount'
        : `  ${faults.length} faults`,
    )
    if (faults.length > 0) process.exitCode = 1
  } catch (fault) {
    log(household.output())
    throw fault
  } finally {
    await household.stop()
  }
}
process.exit()
