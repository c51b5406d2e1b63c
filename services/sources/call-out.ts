/** A connection to a camera's address: resolved, each address checked, and then made to a checked one. */

import { createHash } from 'node:crypto'
import { lookup } from 'node:dns/promises'
import { once } from 'node:events'
import { connect as connectPlain, isIP, type Socket } from 'node:net'
import { connect as connectTls, type TLSSocket } from 'node:tls'
import { type HostRules, mayReach, plainAddress } from './reach.ts'

export type Lookup = (host: string) => Promise<ReadonlyArray<{ readonly address: string }>>

export const lookUpAll: Lookup = (host) => lookup(host, { all: true, verbatim: true })

/** Why a camera could not be asked, in words for a person. */
export class NotReached extends Error {}

export interface Target {
  readonly url: URL
  /** SHA-256 of the camera's certificate in hexadecimal digits; null: it must be one that browsers trust. */
  readonly certificateSha256: string | null
  readonly signal: AbortSignal
}

export interface CallOut {
  readonly rules: HostRules
  readonly lookUp: Lookup
}

/**
 * Every address that the name has must be allowed, and the connection is made to one of those: a name that resolves to
 * another address a moment later leads nowhere else.
 * @throws NotReached, or the network's own error
 */
export async function addressesOf({ rules, lookUp }: CallOut, url: URL): Promise<string[]> {
  const host = url.hostname.replace(/^\[|\]$/g, '')
  const found = isIP(host) === 0 ? (await lookUp(host)).map(({ address }) => address) : [host]
  for (const address of found) {
    if (mayReach(address, host, rules)) continue
    const where = address === host ? host : `${host} (${address})`
    throw new NotReached(
      `${where} is an address of this machine or of a network of its own, and the service has no leave to ask there. Start it with --camera-host ${address === host ? host : address}.`,
    )
  }
  if (found.length === 0) throw new NotReached(`${host} has no address.`)
  return found.map((address) => plainAddress(address)!)
}

/** Nothing has been sent on it; with https its certificate has been proved. */
export async function callOut(out: CallOut, target: Target): Promise<Socket> {
  const addresses = await addressesOf(out, target.url)
  let fault: unknown
  for (const address of addresses) {
    try {
      return await connect(address, target)
    } catch (one) {
      if (one instanceof NotReached || target.signal.aborted) throw one
      fault = one
    }
  }
  throw fault
}

async function connect(address: string, { url, certificateSha256, signal }: Target): Promise<Socket> {
  const isTls = url.protocol === 'https:'
  const port = url.port === '' ? (isTls ? 443 : 80) : Number(url.port)
  const host = url.hostname.replace(/^\[|\]$/g, '')
  const socket = isTls
    ? connectTls({
        host: address,
        port,
        ...(isIP(host) === 0 && { servername: host }),
        ALPNProtocols: ['http/1.1'],
        // Whether it is the right one is asked below, before anything is sent: a pinned one need not be trusted.
        rejectUnauthorized: false,
      })
    : connectPlain({ host: address, port })
  const give = () => socket.destroy()
  signal.addEventListener('abort', give)
  try {
    signal.throwIfAborted()
    await once(socket, isTls ? 'secureConnect' : 'connect', { signal })
    if (isTls) proveCertificate(socket as TLSSocket, { host, certificateSha256 })
    // From here on whoever reads hears of faults; one between must not end the process.
    socket.on('error', () => undefined)
    return socket
  } catch (fault) {
    socket.on('error', () => undefined)
    socket.destroy()
    throw fault
  } finally {
    signal.removeEventListener('abort', give)
  }
}

function proveCertificate(
  socket: TLSSocket,
  { host, certificateSha256 }: { readonly host: string; readonly certificateSha256: string | null },
): void {
  const { raw } = socket.getPeerCertificate()
  const found = raw === undefined ? 'none' : createHash('sha256').update(raw).digest('hex')
  if (certificateSha256 !== null) {
    if (found === certificateSha256) return
    throw new NotReached(
      `${host} showed another certificate than the one that was set; nothing was sent to it. SHA-256 of what it showed: ${found}. If the camera was given a new certificate, set this one.`,
    )
  }
  if (socket.authorized) return
  throw new NotReached(
    `The certificate of ${host} is not to be trusted (${String(socket.authorizationError)}); nothing was sent to it. If it is the camera's own, set it: SHA-256 ${found}.`,
  )
}
