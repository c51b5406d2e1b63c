import { expect, test } from 'vitest'
import { Failed } from '../../../web/api/ask.ts'
import { type OutboxState, openOutbox } from '../../../web/api/outbox.ts'

const noAnswer = new Failed({ what: 'no answer', remedy: 'try again', field: null, status: null })
const refusal = new Failed({ what: 'no such photo', remedy: 'load the page', field: 'words.0', status: 404 })

/** An outbox whose sending is decided by the test, and whose waiting is over when the test says so. */
function outboxWith(answers: (Failed | 'taken')[]) {
  const sent: string[] = []
  const states: OutboxState[] = []
  const waits: { act: () => void; ms: number }[] = []
  const outbox = openOutbox<string>({
    send: async (batch) => {
      const answer = answers.shift() ?? 'taken'
      if (answer !== 'taken') throw answer
      sent.push(batch)
    },
    changed: (state) => states.push(state),
    later: (act, ms) => waits.push({ act, ms }),
  })
  return { outbox, sent, states, waits }
}

/** Lets everything that is ready run. */
const settle = () => new Promise((done) => setImmediate(done))

test('words are sent in the order they were said', async () => {
  const { outbox, sent } = outboxWith([])
  for (const word of ['one', 'two', 'three']) outbox.put(word)
  await settle()
  expect(sent).toEqual(['one', 'two', 'three'])
  expect(outbox.state()).toEqual({ waiting: 0, failure: null, refused: null })
})

test('while the link is down words are kept and said to be waiting', async () => {
  const { outbox, sent } = outboxWith([noAnswer])
  outbox.put('one')
  await settle()
  outbox.put('two')
  await settle()
  expect(sent).toEqual([])
  expect(outbox.state().waiting).toBe(2)
  expect(outbox.state().failure?.what).toBe('no answer')
})

test('they are sent again by themselves, later each time, and in order', async () => {
  const { outbox, sent, waits } = outboxWith([noAnswer, noAnswer])
  outbox.put('one')
  outbox.put('two')
  await settle()
  waits[0]?.act()
  await settle()
  expect(waits[1]!.ms).toBeGreaterThan(waits[0]!.ms)
  waits[1]?.act()
  await settle()
  expect(sent).toEqual(['one', 'two'])
  expect(outbox.state().waiting).toBe(0)
})

test('a word the service refuses is dropped and told, and does not hold up the others', async () => {
  const { outbox, sent } = outboxWith([refusal])
  outbox.put('one')
  outbox.put('two')
  await settle()
  expect(sent).toEqual(['two'])
  expect(outbox.state().refused?.what).toBe('no such photo')
})

test('"send now" tries at once', async () => {
  const { outbox, sent } = outboxWith([noAnswer])
  outbox.put('one')
  await settle()
  outbox.sendNow()
  await settle()
  expect(sent).toEqual(['one'])
})
