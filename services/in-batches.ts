/** Gathers calls that come in one turn, or while an earlier one is being served, and serves them together. */

/** What waits is bounded by whoever calls; one round never takes more than this. */
const MOST_AT_ONCE = 64

/**
 * One round at a time: a call that finds none on its way is served at once, so a quiet service waits for nothing and a
 * busy one asks its database once for many. Every call is served by a round that begins after it.
 * A round that fails is served again one by one, so that one bad call does not fail the others.
 */
export function inBatches<Ask, Answer>(
  serve: (asks: readonly Ask[]) => Promise<readonly Answer[]>,
): (ask: Ask) => Promise<Answer> {
  interface Call {
    readonly ask: Ask
    readonly resolve: (answer: Answer) => void
    readonly reject: (fault: unknown) => void
  }
  const waiting: Call[] = []
  let busy = false

  async function serveAll(): Promise<void> {
    busy = true
    // Others of this turn may come: they go with the first.
    await null
    while (waiting.length > 0) await serveRound(waiting.splice(0, MOST_AT_ONCE))
    busy = false
  }
  async function serveRound(calls: readonly Call[]): Promise<void> {
    try {
      const answers = await serve(calls.map(({ ask }) => ask))
      for (const [i, { resolve }] of calls.entries()) resolve(answers[i]!)
    } catch (fault) {
      const [only] = calls
      if (calls.length === 1) only!.reject(fault)
      else for (const call of calls) await serveRound([call])
    }
  }
  return (ask) =>
    new Promise((resolve, reject) => {
      waiting.push({ ask, resolve, reject })
      if (!busy) void serveAll()
    })
}
