/** Which addresses may be asked for a photo: the ways that lead to the machine itself or its network, one by one. */
import { describe, expect, test } from 'vitest'
import { addressesOf, type CallOut, NotReached } from '../../../services/sources/call-out.ts'
import { mayReach, plainAddress, readHostRules } from '../../../services/sources/reach.ts'

const rulesOf = (...texts: string[]) => {
  const rules = readHostRules(texts)
  if ('wrong' in rules) throw new Error(rules.wrong)
  return rules
}
const none = rulesOf()
const out = (allowed: string[], names: Record<string, string[]> = {}): CallOut => ({
  rules: rulesOf(...allowed),
  lookUp: async (host) => (names[host] ?? []).map((address) => ({ address })),
})

/** IANA's registries of special-purpose addresses for IPv4 and IPv6 (RFC 6890), an address of each block. */
const CLOSED = [
  '0.0.0.0',
  '0.1.2.3',
  '10.0.0.1',
  '10.255.255.255',
  '100.64.0.1',
  '100.127.255.255',
  '127.0.0.1',
  '127.255.255.254',
  '169.254.169.254',
  '172.16.0.1',
  '172.31.255.255',
  '192.0.0.1',
  '192.0.2.1',
  '192.168.1.1',
  '198.18.0.1',
  '198.19.255.255',
  '198.51.100.1',
  '203.0.113.1',
  '224.0.0.1',
  '239.255.255.255',
  '240.0.0.1',
  '255.255.255.255',
  '::',
  '::1',
  '::ffff:127.0.0.1',
  '::ffff:10.0.0.1',
  '::ffff:a9fe:a9fe',
  '::127.0.0.1',
  '64:ff9b::7f00:1',
  '64:ff9b:1::1',
  '100::1',
  '2001::1',
  '2001:db8::1',
  '2002:7f00:1::1',
  '3fff::1',
  '5f00::1',
  'fc00::1',
  'fd12:3456::1',
  'fe80::1',
  'fe80::1%eth0',
  'ff02::1',
]
const OPEN = [
  '1.1.1.1',
  '9.255.255.255',
  '11.0.0.1',
  '100.63.255.255',
  '100.128.0.1',
  '172.15.255.255',
  '172.32.0.1',
  '192.167.255.255',
  '223.255.255.255',
  '2606:4700::1111',
  '::ffff:1.1.1.1',
]

describe('without a rule', () => {
  test.each(CLOSED)('%s is closed', (address) => expect(mayReach(address, address, none)).toBe(false))
  test.each(OPEN)('%s is open', (address) => expect(mayReach(address, address, none)).toBe(true))
  test.each(['', 'camera', '1.2.3', '1.2.3.4.5', 'x::y'])('%j is no address', (address) =>
    expect(mayReach(address, address, none)).toBe(false),
  )
})

describe('however an address is written (WHATWG URL, section 3.5)', () => {
  test.each([
    'http://127.1/',
    'http://0177.0.0.1/',
    'http://0x7f.0.0.1/',
    'http://0x7f000001/',
    'http://2130706433/',
    'http://017700000001/',
    'http://127.0.0.1./',
    'http://0/',
    'http://[::1]/',
    'http://[0:0:0:0:0:0:0:1]/',
    'http://[::ffff:127.0.0.1]/',
    'http://[::ffff:7f00:1]/',
    'http://①②⑦.⓪.⓪.①/',
    'http://192.168.257/',
    'http://[fe80::1]/',
  ])('%s is not asked', async (address) => {
    await expect(addressesOf(out([]), new URL(address))).rejects.toThrow(NotReached)
  })
  test('one address has one spelling', () => {
    expect(plainAddress('::FFFF:192.168.1.20')).toBe('192.168.1.20')
    expect(plainAddress('[2001:0DB8::0:1]')).toBe('2001:db8::1')
  })
})

describe('a name', () => {
  test('is asked at the addresses that it has', async () => {
    const call = out([], { 'camera.example': ['1.1.1.1', '2606:4700::1111'] })
    expect(await addressesOf(call, new URL('http://camera.example/'))).toEqual(['1.1.1.1', '2606:4700::1111'])
  })
  test('is not asked when one of its addresses is closed, whichever it is', async () => {
    for (const addresses of [['127.0.0.1'], ['1.1.1.1', '10.0.0.1'], ['::1', '1.1.1.1']]) {
      const call = out([], { 'camera.example': addresses })
      await expect(addressesOf(call, new URL('http://camera.example/'))).rejects.toThrow(/camera\.example \(/)
    }
  })
  test('without an address says so', async () => {
    await expect(addressesOf(out([]), new URL('http://nowhere.example/'))).rejects.toThrow('has no address')
  })
  test('localhost is a name like others', async () => {
    const call = out([], { localhost: ['127.0.0.1'] })
    await expect(addressesOf(call, new URL('http://localhost/'))).rejects.toThrow(NotReached)
  })
})

describe('what the operator allowed', () => {
  test('an address, a network, a name; and nothing beside them', () => {
    const rules = rulesOf('192.168.1.20', '10.20.0.0/16', 'fd00:1::/32', 'Gate.Station.')
    const may = (address: string, host = address) => mayReach(address, host, rules)
    expect([may('192.168.1.20'), may('192.168.1.21')]).toEqual([true, false])
    expect([may('10.20.255.1'), may('10.21.0.1'), may('::ffff:10.20.0.9')]).toEqual([true, false, true])
    expect([may('fd00:1::5'), may('fd00:2::5')]).toEqual([true, false])
    expect([may('127.0.0.1', 'gate.station'), may('127.0.0.1', 'other.station')]).toEqual([true, false])
  })
  test.each(['http://192.168.1.1', '192.168.1.0/33', '192.168.1.0/x', '::/129', 'a b', '', '-', '1.2.3.4/'])(
    '%j is no rule',
    (text) => expect(readHostRules([text])).toEqual({ wrong: text }),
  )
})
