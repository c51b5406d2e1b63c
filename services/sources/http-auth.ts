/**
 * How a camera's page asks for a name and a password, and the answer to it: Basic (RFC 7617) and Digest (RFC 7616) with
 * MD5 and SHA-256. Pure: the counter and the client's nonce are handed in.
 */
import { createHash } from 'node:crypto'

export interface Challenge {
  /** In small letters: `basic`, `digest`. */
  readonly scheme: string
  readonly params: Readonly<Record<string, string>>
}

/** A name, and then a quoted text, a bare one or nothing (RFC 9110, sections 5.6 and 11.2). */
const PART =
  /\s*(?:([!#$%&'*+.^_`|~0-9A-Za-z-]+)(?:\s*=\s*(?:"((?:[^"\\]|\\.)*)"|([^\s,"]+)))?)?\s*(,|$|(?=\S))/gy

/** The challenges of a `WWW-Authenticate` header, several of them with commas between; what makes no sense is left out. */
export function readChallenges(header: string): Challenge[] {
  const challenges: Array<{ scheme: string; params: Record<string, string> }> = []
  PART.lastIndex = 0
  while (PART.lastIndex < header.length) {
    const at = PART.lastIndex
    const match = PART.exec(header)
    if (match === null || PART.lastIndex === at) break
    const [, name, quoted, bare] = match
    if (name === undefined) continue
    const value = quoted?.replace(/\\(.)/g, '$1') ?? bare
    if (value === undefined) challenges.push({ scheme: name.toLowerCase(), params: {} })
    else if (challenges.length > 0) challenges.at(-1)!.params[name.toLowerCase()] = value
  }
  return challenges
}

const HASHES: Readonly<Record<string, string>> = { md5: 'md5', 'sha-256': 'sha256' }

/** The strongest that can be answered: Digest with SHA-256, Digest with MD5, Basic. Null for none. */
export function strongestOf(challenges: readonly Challenge[]): Challenge | null {
  const rank = (challenge: Challenge) => {
    if (challenge.scheme === 'basic') return 1
    const digest = challenge.scheme === 'digest' ? digestOf(challenge) : null
    if (digest === null) return 0
    return digest.hash === 'sha256' ? 3 : 2
  }
  return challenges.filter((one) => rank(one) > 0).toSorted((a, b) => rank(b) - rank(a))[0] ?? null
}

export interface Credentials {
  readonly user: string
  readonly password: string
}

export interface DigestRequest {
  readonly method: string
  /** Path and query as they stand in the request line. */
  readonly uri: string
  /** How often this nonce has been used, this time included. */
  readonly nonceCount: number
  readonly clientNonce: string
}

/** RFC 7617, section 2, in UTF-8 (section 2.1). */
export function basicAnswer({ user, password }: Credentials): string {
  return `Basic ${Buffer.from(`${user}:${password}`, 'utf8').toString('base64')}`
}

/** The header `Authorization` for a Digest challenge (RFC 7616, section 3.4), for a request without a body. */
export function digestAnswer(
  challenge: Challenge,
  { user, password }: Credentials,
  { method, uri, nonceCount, clientNonce }: DigestRequest,
): string {
  const { hash, isSession, qop } = digestOf(challenge)!
  const { realm = '', nonce = '', opaque, algorithm, userhash } = challenge.params
  const h = (text: string) => createHash(hash).update(text, 'utf8').digest('hex')
  const secret = h(`${user}:${realm}:${password}`)
  const a1 = isSession ? h(`${secret}:${nonce}:${clientNonce}`) : secret
  const a2 = h(qop === 'auth-int' ? `${method}:${uri}:${h('')}` : `${method}:${uri}`)
  const count = nonceCount.toString(16).padStart(8, '0')
  // Without qop: as RFC 2069 had it, which old cameras still ask for.
  const response =
    qop === null ? h(`${a1}:${nonce}:${a2}`) : h(`${a1}:${nonce}:${count}:${clientNonce}:${qop}:${a2}`)
  const hidden = userhash?.toLowerCase() === 'true'
  const parts = [
    `username=${quoted(hidden ? h(`${user}:${realm}`) : user)}`,
    `realm=${quoted(realm)}`,
    `uri=${quoted(uri)}`,
    ...(algorithm === undefined ? [] : [`algorithm=${algorithm}`]),
    `nonce=${quoted(nonce)}`,
    ...(qop === null ? [] : [`nc=${count}`, `cnonce=${quoted(clientNonce)}`, `qop=${qop}`]),
    `response=${quoted(response)}`,
    ...(opaque === undefined ? [] : [`opaque=${quoted(opaque)}`]),
    ...(hidden ? ['userhash=true'] : []),
  ]
  return `Digest ${parts.join(', ')}`
}

/** True where only the nonce is old: the name and the password were right (RFC 7616, section 3.3). */
export function isStale({ params }: Challenge): boolean {
  return params.stale?.toLowerCase() === 'true'
}

interface Digest {
  readonly hash: string
  readonly isSession: boolean
  /** Null: the challenge has none. */
  readonly qop: 'auth' | 'auth-int' | null
}

/** Null where it asks for what we cannot do. */
function digestOf({ params }: Challenge): Digest | null {
  const algorithm = (params.algorithm ?? 'MD5').toLowerCase()
  const isSession = algorithm.endsWith('-sess')
  const hash = HASHES[isSession ? algorithm.slice(0, -'-sess'.length) : algorithm]
  if (hash === undefined || params.nonce === undefined) return null
  if (params.qop === undefined) return { hash, isSession, qop: null }
  const offered = params.qop.split(',').map((one) => one.trim().toLowerCase())
  if (offered.includes('auth')) return { hash, isSession, qop: 'auth' }
  return offered.includes('auth-int') ? { hash, isSession, qop: 'auth-int' } : null
}

function quoted(text: string): string {
  return `"${text.replace(/["\\]/g, '\\$&')}"`
}
