/** Turns at the eye: many at once, or one still alone, to learn whose fault it is that the eye ended. */

export interface Turns {
  /** Works beside others. */
  together<T>(work: () => Promise<T>): Promise<T>
  /** Works when nothing else does; those who come later wait. */
  alone<T>(work: () => Promise<T>): Promise<T>
}

interface Asking {
  readonly alone: boolean
  readonly go: () => void
}

export function makeTurns(): Turns {
  const line: Asking[] = []
  let inTurn = 0
  let aloneInTurn = false

  function next(): void {
    for (let first = line[0]; first !== undefined; first = line[0]) {
      if (aloneInTurn || (first.alone && inTurn > 0)) return
      line.shift()
      inTurn += 1
      aloneInTurn = first.alone
      first.go()
    }
  }

  async function take<T>(alone: boolean, work: () => Promise<T>): Promise<T> {
    await new Promise<void>((go) => {
      line.push({ alone, go })
      next()
    })
    try {
      return await work()
    } finally {
      inTurn -= 1
      aloneInTurn = false
      next()
    }
  }

  return {
    together: (work) => take(false, work),
    alone: (work) => take(true, work),
  }
}
