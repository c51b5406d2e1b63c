/** Watches every mailbox that is turned on: reads it, waits for news of it, and connects again when the link was lost. */
import { setTimeout as pause } from 'node:timers/promises'
import type { ImapFlow } from 'imapflow'
import type { SourcePlace } from '../sources/place.ts'
import { recordMailTry } from '../store/mail-progress.ts'
import { listMailboxes, type MailboxRow } from '../store/mailboxes.ts'
import { mailFaultOf } from './mail-fault.ts'
import { openMailSession } from './mail-session.ts'
import { openFolder, sweepMailbox } from './sweep-mailbox.ts'
import { type TriedMailbox, tryMailbox } from './try-mailbox.ts'

export interface Mail {
  /** Mailboxes or their rules were changed. */
  changed(): Promise<void>
  tryOut(row: MailboxRow): Promise<TriedMailbox>
  stop(): Promise<void>
}

interface MailOptions {
  /** Before it connects again after the first fault, the second, and so on; the last holds on. */
  readonly pausesMs: readonly number[]
}

const MINUTE_MS = 60_000
const PAUSES_MS = [10_000, 30_000, MINUTE_MS, 5 * MINUTE_MS, 15 * MINUTE_MS]
/** A wrong password said often locks a mailbox. */
const NOT_LET_IN_PAUSE_MS = 30 * MINUTE_MS
const ROUND_MS = MINUTE_MS

export function startMail(place: SourcePlace, { pausesMs }: MailOptions = { pausesMs: PAUSES_MS }): Mail {
  const watchers = new Map<number, Watcher>()
  let stopped = false
  let turn: Promise<void> = Promise.resolve()

  async function bringUpToDate(): Promise<void> {
    if (stopped) return
    const rows = (await listMailboxes(place.ledger)).filter(({ is_on }) => is_on)
    for (const [id, watcher] of watchers) {
      const row = rows.find((one) => one.id === id)
      if (row !== undefined && settingsOf(row) === watcher.settings) continue
      await watcher.stop()
      watchers.delete(id)
    }
    for (const row of rows) {
      if (!watchers.has(row.id)) watchers.set(row.id, watchMailbox(place, row, { pausesMs }))
    }
  }
  /** One at a time; the ledger may be away, and the next round tries again. */
  const inTurn = (): Promise<void> => {
    turn = turn.then(bringUpToDate).catch((fault: unknown) => {
      place.log.error(
        `mail: ${fault instanceof Error ? fault.message : String(fault)}; tried again in a minute`,
      )
    })
    return turn
  }
  void inTurn()
  const round = setInterval(() => void inTurn(), ROUND_MS)
  return {
    async changed() {
      await inTurn()
      for (const watcher of watchers.values()) watcher.wake()
    },
    tryOut: (row) => tryMailbox(place, row),
    async stop() {
      stopped = true
      clearInterval(round)
      await turn
      await Promise.all([...watchers.values()].map((watcher) => watcher.stop()))
    },
  }
}

interface Watcher {
  readonly settings: string
  /** Reads it now. */
  wake(): void
  stop(): Promise<void>
}

/** What a connection is made with; how far it is read changes all the time. */
function settingsOf(row: MailboxRow): string {
  const { host, port, security, certificate_sha256, user_name, password, folder, after_taking } = row
  const { file_to, poll_minutes } = row
  return JSON.stringify([
    ...[host, port, security, certificate_sha256, user_name, password],
    ...[folder, after_taking, file_to, poll_minutes],
  ])
}

function watchMailbox(place: SourcePlace, row: MailboxRow, { pausesMs }: MailOptions): Watcher {
  const stopping = new AbortController()
  const { signal } = stopping
  let news = new AbortController()
  let session: ImapFlow | null = null
  const wake = () => news.abort()

  async function readForAsLongAsItLasts(): Promise<void> {
    session = await openMailSession(row)
    if (signal.aborted) return
    session.on('exists', wake)
    session.on('close', wake)
    await openFolder(session, row)
    while (!signal.aborted) {
      if (!session.usable) throw Object.assign(new Error('it broke off'), { code: 'NoConnection' })
      news = new AbortController()
      const { notice } = await sweepMailbox(place, session, {
        mailboxId: row.id,
        shouldStop: () => signal.aborted,
      })
      faults = 0
      await recordMailTry(place.ledger, row.id, { at: place.now(), isRead: true, reason: notice })
      await rest(row.poll_minutes * MINUTE_MS)
    }
  }
  const rest = (ms: number) =>
    pause(ms, undefined, { signal: AbortSignal.any([signal, news.signal]), ref: false }).catch(
      () => undefined,
    )

  let faults = 0
  async function watch(): Promise<void> {
    while (!signal.aborted) {
      let notLetIn = false
      try {
        await readForAsLongAsItLasts()
      } catch (thrown) {
        if (signal.aborted) break
        const fault = mailFaultOf(thrown, row)
        notLetIn = fault.notLetIn
        place.log.warn(`mailbox "${row.name}": ${fault.reason}`)
        await recordMailTry(place.ledger, row.id, {
          at: place.now(),
          isRead: false,
          reason: fault.reason,
        }).catch(() => undefined)
      } finally {
        session?.close()
        session = null
      }
      news = new AbortController()
      await rest(notLetIn ? NOT_LET_IN_PAUSE_MS : (pausesMs[faults] ?? pausesMs.at(-1) ?? MINUTE_MS))
      faults += 1
    }
  }
  const over = watch()
  return {
    settings: settingsOf(row),
    wake,
    async stop() {
      stopping.abort()
      session?.close()
      await over
    },
  }
}
