/** Names and passwords as the standards give them, against the examples that stand in them. */
import { describe, expect, test } from 'vitest'
import {
  basicAnswer,
  digestAnswer,
  isStale,
  readChallenges,
  strongestOf,
} from '../../../services/sources/http-auth.ts'

/** RFC 7616, section 3.9.1: the two challenges of one answer. */
const nonce = '7ypf/xlj9XXwfDPEoM4URrv/xwf94BcCAzFZH4GiTo0v'
const opaque = 'FQhe/qaU925kfnzjCev0ciny7QMkPqMAFRtzCUYo5tdS'
const challenge = (algorithm: string) =>
  `Digest realm="http-auth@example.org", qop="auth, auth-int", algorithm=${algorithm}, nonce="${nonce}", opaque="${opaque}"`
const mufasa = { user: 'Mufasa', password: 'Circle of Life' }
const request = {
  method: 'GET',
  uri: '/dir/index.html',
  nonceCount: 1,
  clientNonce: 'f2/wE4q74E6zIJEtWaHKaf5wv/H5QzzpXusqGemxURZJ',
}
const answer = (header: string, change: Partial<typeof request> = {}) =>
  digestAnswer(strongestOf(readChallenges(header))!, mufasa, { ...request, ...change })
const responseOf = (header: string) => /response="([0-9a-f]+)"/.exec(header)?.[1]

describe('Digest (RFC 7616)', () => {
  test('section 3.9.1: with MD5', () => {
    const header = answer(challenge('MD5'))
    expect(responseOf(header)).toBe('8ca523f5e9506fed4657c9700eebdbec')
    for (const part of [
      'Digest username="Mufasa"',
      'realm="http-auth@example.org"',
      'uri="/dir/index.html"',
      'algorithm=MD5',
      `nonce="${nonce}"`,
      'nc=00000001',
      `cnonce="${request.clientNonce}"`,
      'qop=auth',
      `opaque="${opaque}"`,
    ]) {
      expect(header.split(', ')).toContain(part)
    }
  })
  test('section 3.9.1: with SHA-256', () => {
    expect(responseOf(answer(challenge('SHA-256')))).toBe(
      '753927fa0e85d155564e2e272a28d1802ca10daf4496794697cf8db5856cb6c1',
    )
  })
  test('of the two the stronger is answered, in whatever order they come', () => {
    const [md5, sha] = [challenge('MD5'), challenge('SHA-256')]
    for (const both of [`${md5}, ${sha}`, `${sha}, ${md5}`, `Basic realm="x", ${md5}, ${sha}`]) {
      expect(responseOf(answer(both))).toHaveLength(64)
    }
    expect(responseOf(answer(`Basic realm="x", ${md5}`))).toHaveLength(32)
  })
  test('the nonce is counted in eight hexadecimal digits, and each count gives another answer', () => {
    const [second, later] = [2, 0xabc].map((nonceCount) => answer(challenge('MD5'), { nonceCount }))
    expect(second).toContain('nc=00000002')
    expect(later).toContain('nc=00000abc')
    expect(responseOf(second!)).not.toBe(responseOf(later!))
  })
  test('without qop it is the older form: RFC 2617, section 3.2.2.1, for RFC 2069', () => {
    // RFC 2617, section 3.5, less what qop adds; the value by that formula with `md5sum`.
    const header = digestAnswer(
      readChallenges(
        'Digest realm="testrealm@host.com", nonce="dcd98b7102dd2f0e8b11d0f600bfb0c093", opaque="5ccc069c403ebaf9f0171e9517f40e41"',
      )[0]!,
      mufasa2617,
      { ...request, clientNonce: '0a4f113b' },
    )
    expect(responseOf(header)).toBe('670fd8c2df070c60b045671b8b24ff02')
    expect(header).not.toMatch(/nc=|cnonce=|qop=/)
  })
  test('with qop, the example that stands in RFC 2617, section 3.5', () => {
    const header = digestAnswer(
      readChallenges(
        'Digest realm="testrealm@host.com", qop="auth,auth-int", nonce="dcd98b7102dd2f0e8b11d0f600bfb0c093", opaque="5ccc069c403ebaf9f0171e9517f40e41"',
      )[0]!,
      mufasa2617,
      { ...request, clientNonce: '0a4f113b' },
    )
    expect(responseOf(header)).toBe('6629fae49393a05397450978507c4ef1')
  })
  test('a kind that is not known is left to the next', () => {
    expect(strongestOf(readChallenges('Digest realm="x", nonce="n", algorithm=SHA-512-256'))).toBeNull()
    expect(strongestOf(readChallenges('Negotiate, NTLM, Basic realm="x"'))?.scheme).toBe('basic')
    expect(strongestOf(readChallenges('Bearer realm="x"'))).toBeNull()
  })
  test('only the nonce is old', () => {
    expect(isStale(readChallenges('Digest realm="x", nonce="n", stale=TRUE')[0]!)).toBe(true)
    expect(isStale(readChallenges('Digest realm="x", nonce="n"')[0]!)).toBe(false)
  })
})

/** RFC 2617, section 3.5. */
const mufasa2617 = { user: 'Mufasa', password: 'Circle Of Life' }

describe('Basic (RFC 7617)', () => {
  test('section 2: Aladdin and his open sesame', () => {
    expect(basicAnswer({ user: 'Aladdin', password: 'open sesame' })).toBe(
      'Basic QWxhZGRpbjpvcGVuIHNlc2FtZQ==',
    )
  })
  test('section 2.1: in UTF-8', () => {
    expect(basicAnswer({ user: 'test', password: '123£' })).toBe('Basic dGVzdDoxMjPCow==')
  })
})

describe('challenges (RFC 9110, section 11.6.1)', () => {
  test('the example of that section', () => {
    // There with the header's name before it.
    const [basic, newauth] = readChallenges(
      'Basic realm="simple", Newauth realm="apps", type=1, title="Login to \\"apps\\""',
    )
    expect(basic).toEqual({ scheme: 'basic', params: { realm: 'simple' } })
    expect(newauth).toEqual({
      scheme: 'newauth',
      params: { realm: 'apps', type: '1', title: 'Login to "apps"' },
    })
  })
  test.each(['', ',,,', '"', '= = =', 'Digest', 'Digest realm="never ended', '\u0000', 'a'.repeat(10_000)])(
    'what makes no sense gives nothing to answer: %j',
    (header) => {
      expect(strongestOf(readChallenges(header))).toBeNull()
    },
  )
})
