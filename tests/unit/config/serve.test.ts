import { expect, test } from 'vitest'
import { LEAST_INTAKE_MEMORY_MB } from '../../../services/config/environment.ts'
import { readServeConfig } from '../../../services/config/serve.ts'
import { MAX_STILL_BYTES } from '../../../services/intake/receive-still.ts'
import { Refusal } from '../../../services/refusal.ts'

const receiving = (megabytes: string) =>
  readServeConfig([], { HOOFTALLY_INTAKE_MEMORY_MB: megabytes }).receivingBytes

test('the memory of photos that come in is set in megabytes', () => {
  expect(receiving('64')).toBe(64 * 1024 ** 2)
  expect(readServeConfig([], {}).receivingBytes).toBeUndefined()
})

test('the least that can be set holds the largest photo', () => {
  expect(receiving(String(LEAST_INTAKE_MEMORY_MB))).toBeGreaterThan(MAX_STILL_BYTES)
  expect(() => receiving(String(LEAST_INTAKE_MEMORY_MB - 1))).toThrow(Refusal)
})
