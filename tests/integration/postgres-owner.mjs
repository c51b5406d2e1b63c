/**
 * A service cut down to its database, as a process of its own that tests can kill:
 * `node postgres-owner.mjs BUILT_OPEN_JS FOLDER [throwaway]`. Says one JSON object a line; stops at the line `stop` on stdin.
 */
import { createInterface } from 'node:readline'
import { pathToFileURL } from 'node:url'

const [builtOpen, folder, throwaway] = process.argv.slice(2)
const say = (what) => process.stdout.write(`${JSON.stringify(what)}\n`)
const { openEmbeddedPostgres } = await import(pathToFileURL(builtOpen).href)

process.on('SIGINT', () => say({ kind: 'interrupted' }))
try {
  const postgres = await openEmbeddedPostgres({
    folder,
    log: (line) => say({ kind: 'log', line }),
    ...(throwaway === 'throwaway' ? { durable: false } : {}),
  })
  say({ kind: 'ready', url: postgres.url, tookOver: postgres.tookOver })
  for await (const line of createInterface({ input: process.stdin })) if (line === 'stop') break
  await postgres.stop()
  say({ kind: 'stopped' })
} catch (error) {
  const { kind: refusal, message, remedy } = error
  say({ kind: 'refused', refusal, message, remedy })
}
process.exit()
