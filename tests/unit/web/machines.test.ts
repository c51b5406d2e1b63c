/** Machines that look at photos, in words. */
import { expect, it } from 'vitest'
import type { WorkerAnswer } from '../../../services/http/shapes.ts'
import { machineDone, machineState, startLine } from '../../../web/text/machines.ts'

const NOW = '2026-11-25T06:10:00+10:30'
const machine: WorkerAnswer = {
  id: 1,
  name: 'shed 1',
  version: '0.1.0',
  keyName: 'Shed',
  keyRevoked: false,
  lastWordAt: '2026-11-25T06:09:50+10:30',
  atWork: true,
  photosDone: 1204,
  photosFailed: 0,
  photosAnHour: 899.6,
}

it('one at work says so, with all it did and its rate', () => {
  expect(machineState(machine, NOW)).toBe('At work, last word just now')
  expect(machineDone(machine)).toBe('1,204 photos; 900 an hour')
  expect(machineDone({ ...machine, photosFailed: 3 })).toBe('1,204 photos, 3 given up; 900 an hour')
})

it('a silent one says since when, and claims no rate', () => {
  const silent = { ...machine, atWork: false, lastWordAt: '2026-11-25T03:10:00+10:30' }
  expect(machineState(silent, NOW)).toBe('Not at work, last word 3 h ago')
  expect(machineDone(silent)).toBe('1,204 photos')
})

it('one whose key was revoked says that', () => {
  expect(machineState({ ...machine, atWork: false, keyRevoked: true }, NOW)).toBe(
    'Key revoked, last word just now',
  )
})

it('the line that starts a worker keeps the key out of the list of processes', () => {
  expect(startLine('http://10.0.0.5:8470', 'abc')).toBe(
    'HOOFTALLY_WORKER_KEY=abc node services/start.mjs worker --api http://10.0.0.5:8470',
  )
})
