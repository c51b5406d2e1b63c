import { expect, test } from 'vitest'
import { Failed } from '../../../web/api/ask.ts'
import { type OutboxState, openOutbox } from '../../../web/api/outbox.ts'
import { type Shelf, shelfInMemory } from '../../../web/api/shelf.ts'

const noAnswer = new Failed({ what: 'no answer', remedy: 'try again', field: null, status: null })
const shut = new Failed({ what: 'not allowed', remedy: 'log in', field: null, status: 401 })
const refusal = new Failed({ what: 'no such photo', remedy: 'load the page', field: 'words.0', status: 404 })

/** An outbox whose sending is decided by the test, and whose waiting is over when the test says so. */
function outboxWith(answers: (Failed | 'taken')[], shelf: Shelf<string> = shelfInMemory()) {
  const sent: string[] = []
  const dropped: string[] = []
  const states: OutboxState[] = []
  const waits: { act: () => void; ms: number }[] = []
  const outbox = openOutbox<string, void>({
    shelf,
    send: async (batch) => {
      const answer = answers.shift() ?? 'taken'
      if (answer !== 'taken') throw answer
      sent.push(batch)
    },
    changed: (state) => states.push(state),
    dropped: (batch) => dropped.push(batch),
    later: (act, ms) => waits.push({ act, ms }),
  })
  return { outbox, sent, dropped, states, waits, shelf }
}

/** Lets everything that is ready run. */
const settle = () => new Promise((done) => setImmediate(done))

test('words are sent in the order they were said', async () => {
  const { outbox, sent } = outboxWith([])
  for (const word of ['one', 'two', 'three']) outbox.put(word)
  await settle()
  expect(sent).toEqual(['one', 'two', 'three'])
  expect(outbox.state()).toEqual({ waiting: 0, failure: null, refused: null, lasts: false })
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
  const { outbox, sent, dropped } = outboxWith([refusal])
  outbox.put('one')
  outbox.put('two')
  await settle()
  expect(sent).toEqual(['two'])
  expect(dropped).toEqual(['one'])
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

test('a word that is not taken for another reason is kept: it may be later', async () => {
  const { outbox, sent, dropped, waits } = outboxWith([shut])
  outbox.put('one')
  await settle()
  expect([outbox.state().waiting, dropped]).toEqual([1, []])
  waits[0]?.act()
  await settle()
  expect(sent).toEqual(['one'])
})

test('what an earlier page left is sent first, and is off the shelf once it is taken', async () => {
  const shelf = shelfInMemory<string>()
  const before = outboxWith([noAnswer], shelf)
  before.outbox.put('one')
  before.outbox.put('two')
  await settle()
  expect((await shelf.all()).map(({ value }) => value)).toEqual(['one', 'two'])
  const after = outboxWith([], shelf)
  after.outbox.put('three')
  expect(await after.outbox.left).toEqual(['one', 'two'])
  await settle()
  expect(after.sent).toEqual(['one', 'two', 'three'])
  expect(await shelf.all()).toEqual([])
})

test('a word is on the shelf before it is sent', async () => {
  const shelf = shelfInMemory<string>()
  const onShelf: string[] = []
  const outbox = openOutbox<string, void>({
    shelf,
    send: async () => {
      onShelf.push(...(await shelf.all()).map(({ value }) => value))
    },
    changed: () => undefined,
    later: () => undefined,
  })
  outbox.put('one')
  await settle()
  expect(onShelf).toEqual(['one'])
})

test('whoever keeps what is refused has it before it leaves the shelf', async () => {
  const shelf = shelfInMemory<string>()
  const kept: unknown[] = []
  const outbox = openOutbox<string, void>({
    shelf,
    send: async () => {
      throw refusal
    },
    changed: () => undefined,
    keepRefused: async (batch, why) => {
      kept.push([batch, why.field, (await shelf.all()).map(({ value }) => value)])
    },
    later: () => undefined,
  })
  outbox.put('one')
  await settle()
  expect(kept).toEqual([['one', 'words.0', ['one']]])
  expect(await shelf.all()).toEqual([])
})
