/** Asks a camera's address for one photo: with its name and password where it wants them, and no further than that host. */
import { randomBytes } from 'node:crypto'
import { type IncomingMessage, request } from 'node:http'
import { type CallOut, callOut, NotReached } from './call-out.ts'
import {
  basicAnswer,
  type Challenge,
  type Credentials,
  digestAnswer,
  isStale,
  readChallenges,
  strongestOf,
} from './http-auth.ts'

export interface PhotoAsk {
  readonly url: URL
  readonly credentials: Credentials | null
  readonly certificateSha256: string | null
  readonly mostBytes: number
  /** What the camera asked for last time, and how often its nonce was used: kept by the caller, changed here. */
  readonly door: KnownDoor
  readonly signal: AbortSignal
}

export interface KnownDoor {
  challenge: Challenge | null
  nonceCount: number
}

export type Fetched =
  | { readonly kind: 'bytes'; readonly bytes: Buffer }
  | {
      readonly kind: 'failed'
      readonly words: string
      /** The name or the password is wrong: cameras lock out who tries too often. */
      readonly isRefused: boolean
      readonly retryAfterSeconds: number | null
    }

const MOST_REDIRECTS = 3
/** Some give a nonce that is old at once, now and then; one that always does will not be answered. */
const MOST_ANSWERS = 3

/** @throws NotReached, or the network's own error */
export async function fetchPhoto(out: CallOut, ask: PhotoAsk): Promise<Fetched> {
  let url = ask.url
  let answers = 0
  let isNew = false
  for (let redirects = 0; redirects <= MOST_REDIRECTS; ) {
    const authorization = authorizationFor(ask, url)
    // What an old nonce is answered says nothing of the password.
    if (authorization !== null && isNew) answers += 1
    const response = await send(out, ask, { url, authorization })
    const status = response.statusCode ?? 0
    if (status === 401) {
      response.destroy()
      const challenge = strongestOf(readChallenges(response.headers['www-authenticate'] ?? ''))
      const why = whyNotAgain(ask, { challenge, answers })
      if (why !== null) return failed(why, { isRefused: true })
      ask.door.challenge = challenge
      ask.door.nonceCount = 0
      isNew = true
      continue
    }
    if (status >= 300 && status < 400 && response.headers.location !== undefined) {
      response.destroy()
      const next = urlOf(response.headers.location, url)
      if (next === null || next.origin !== url.origin)
        return failed(
          `The camera sends on to ${next === null ? 'no address' : next.origin}, another host: that is not followed. Set the address it sends on to.`,
        )
      url = next
      redirects += 1
      continue
    }
    if (status !== 200) {
      response.destroy()
      return failed(`The camera answered ${status} (${response.statusMessage || 'no words'}).`, {
        isRefused: status === 403,
        retryAfterSeconds: secondsOf(response.headers['retry-after']),
      })
    }
    return await bodyOf(response, ask.mostBytes)
  }
  return failed('The camera sends on from page to page without an end.')
}

/** Why another answer is of no use, in words; null where one is. `answers`: how many were given to nonces of this time. */
function whyNotAgain(
  { credentials }: PhotoAsk,
  { challenge, answers }: { readonly challenge: Challenge | null; readonly answers: number },
): string | null {
  if (credentials === null) return 'The camera asks for a name and a password.'
  if (challenge === null) return 'The camera asks for a kind of password that the service does not know.'
  if (answers >= MOST_ANSWERS) return 'The camera asks for the password again and again.'
  return answers > 0 && !isStale(challenge) ? 'The camera does not take the name and the password.' : null
}

function authorizationFor({ credentials, door }: PhotoAsk, url: URL): string | null {
  const { challenge } = door
  if (credentials === null || challenge === null) return null
  if (challenge.scheme === 'basic') return basicAnswer(credentials)
  door.nonceCount += 1
  return digestAnswer(challenge, credentials, {
    method: 'GET',
    uri: url.pathname + url.search,
    nonceCount: door.nonceCount,
    clientNonce: randomBytes(24).toString('base64url'),
  })
}

async function send(
  out: CallOut,
  { certificateSha256, signal }: PhotoAsk,
  { url, authorization }: { readonly url: URL; readonly authorization: string | null },
): Promise<IncomingMessage> {
  const socket = await callOut(out, { url, certificateSha256, signal })
  return await new Promise((resolve, reject) => {
    const asking = request({
      createConnection: () => socket,
      method: 'GET',
      path: url.pathname + url.search,
      headers: {
        Host: url.host,
        Accept: 'image/jpeg, image/*;q=0.8, */*;q=0.1',
        'Accept-Encoding': 'identity',
        'User-Agent': 'Hooftally',
        Connection: 'close',
        ...(authorization !== null && { Authorization: authorization }),
      },
      signal,
    })
    asking.once('response', resolve)
    asking.on('error', reject)
    asking.end()
  })
}

/** Whole, or not at all. */
async function bodyOf(response: IncomingMessage, mostBytes: number): Promise<Fetched> {
  const type = response.headers['content-type'] ?? ''
  if (/^multipart\/x-mixed-replace/i.test(type)) {
    response.destroy()
    return failed(
      'This address gives a moving picture. Set the address of a single one; cameras call it snapshot.',
    )
  }
  const chunks: Buffer[] = []
  let size = 0
  for await (const chunk of response as AsyncIterable<Buffer>) {
    size += chunk.length
    if (size > mostBytes) {
      response.destroy()
      return failed(`The photo is over the limit of ${Math.round(mostBytes / 1024 / 102.4) / 10} MB.`)
    }
    chunks.push(chunk)
  }
  if (!response.complete) throw new NotReached('The connection ended before the photo was whole.')
  return { kind: 'bytes', bytes: Buffer.concat(chunks, size) }
}

function failed(
  words: string,
  {
    isRefused = false,
    retryAfterSeconds = null,
  }: { readonly isRefused?: boolean; readonly retryAfterSeconds?: number | null } = {},
): Fetched {
  return { kind: 'failed', words, isRefused, retryAfterSeconds }
}

function urlOf(location: string, from: URL): URL | null {
  return URL.canParse(location, from) ? new URL(location, from) : null
}

/** Seconds only: a camera's clock is not to be trusted with a date. */
function secondsOf(retryAfter: string | undefined): number | null {
  return retryAfter !== undefined && /^\d{1,5}$/.test(retryAfter) ? Number(retryAfter) : null
}
