/** Turns at the eye: a suspect has it alone, and nobody waits for ever. */
import { expect, it } from 'vitest'
import { makeTurns } from '../../../services/queue/turns.ts'

/** Work that ends when it is told to. */
function openWork() {
  let end: () => void = () => undefined
  let fail: (fault: Error) => void = () => undefined
  const over = new Promise<void>((resolve, reject) => {
    end = resolve
    fail = reject
  })
  let begun = false
  return {
    work: () => {
      begun = true
      return over
    },
    begun: () => begun,
    end: () => end(),
    fail: () => fail(new Error('it fell over')),
  }
}
const settle = () => new Promise((resolve) => setImmediate(resolve))

it('many work together; one alone waits for them, and those who come later wait for it', async () => {
  const turns = makeTurns()
  const [first, second, suspect, later] = [openWork(), openWork(), openWork(), openWork()]
  void turns.together(first.work)
  void turns.together(second.work)
  void turns.alone(suspect.work)
  void turns.together(later.work)
  await settle()
  expect([first.begun(), second.begun(), suspect.begun(), later.begun()]).toEqual([true, true, false, false])
  first.end()
  await settle()
  expect(suspect.begun()).toBe(false)
  second.end()
  await settle()
  expect([suspect.begun(), later.begun()]).toEqual([true, false])
  suspect.end()
  await settle()
  expect(later.begun()).toBe(true)
})

it('work that fails gives its turn back', async () => {
  const turns = makeTurns()
  const [suspect, next] = [openWork(), openWork()]
  const failed = turns.alone(suspect.work)
  void turns.alone(next.work)
  await settle()
  suspect.fail()
  await expect(failed).rejects.toThrow('it fell over')
  await settle()
  expect(next.begun()).toBe(true)
})

it('gives what the work gives', async () => {
  expect(await makeTurns().alone(async () => 7)).toBe(7)
})
