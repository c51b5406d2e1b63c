import { expect, test } from 'vitest'
import { inBatches } from '../../services/in-batches.ts'

/** Serves when told to, and remembers which calls it served together. */
function slowServer() {
  const rounds: number[][] = []
  const gates: Array<() => void> = []
  const double = inBatches(async (asks: readonly number[]) => {
    rounds.push([...asks])
    await new Promise<void>((open) => gates.push(open))
    if (asks.includes(13)) throw new Error('thirteen')
    return asks.map((ask) => ask * 2)
  })
  const open = async () => {
    gates.shift()?.()
    await new Promise((resolve) => setTimeout(resolve))
  }
  return { rounds, double, open }
}
const nextTurn = () => new Promise((resolve) => setTimeout(resolve))

test('calls of one turn that find nothing on its way are served together in it', async () => {
  const { rounds, double, open } = slowServer()
  const answers = [double(1), double(2)]
  await Promise.resolve()
  expect(rounds).toEqual([[1, 2]])
  await open()
  expect(await Promise.all(answers)).toEqual([2, 4])
})

test('a call that finds nothing on its way is served at once; those that come meanwhile are served together', async () => {
  const { rounds, double, open } = slowServer()
  const answers = [double(1)]
  await nextTurn()
  answers.push(double(2), double(3))
  expect(rounds).toEqual([[1]])
  await open()
  expect(rounds).toEqual([[1], [2, 3]])
  await open()
  expect(await Promise.all(answers)).toEqual([2, 4, 6])
})

test('a round takes no more than 64, and the rest are in the next', async () => {
  const { rounds, double, open } = slowServer()
  const answers = Array.from({ length: 100 }, (_, i) => double(i + 100))
  await nextTurn()
  for (let i = 0; i < 2; i += 1) await open()
  expect(rounds.map((round) => round.length)).toEqual([64, 36])
  expect((await Promise.all(answers))[99]).toBe(398)
})

test('one bad call does not fail those it came with', async () => {
  const { rounds, double, open } = slowServer()
  const answers = Promise.allSettled([double(1), double(12), double(13), double(14)])
  await nextTurn()
  for (let i = 0; i < 5; i += 1) await open()
  expect(rounds).toEqual([[1, 12, 13, 14], [1], [12], [13], [14]])
  expect((await answers).map((one) => (one.status === 'fulfilled' ? one.value : String(one.reason)))).toEqual(
    [2, 24, 'Error: thirteen', 28],
  )
})
