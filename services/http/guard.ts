/** Keeps strangers' web pages out of a service that trusts whoever reaches it. */
import type { RequestHandler } from 'express'
import { Refusal } from '../refusal.ts'

const LOOPBACK_HOST = /^(localhost|127(\.\d{1,3}){3}|\[::1\])(:\d+)?$/i

/**
 * Until people and keys exist, whoever reaches the service may use it. A page of another site, open in a browser on this
 * machine, must not: on loopback only loopback names are answered (a name of theirs could be pointed here), and a
 * request that changes something must come from our own pages or from no page at all.
 */
export function guard({ loopbackOnly }: { readonly loopbackOnly: boolean }): RequestHandler {
  return (request, _response, next) => {
    const host = request.get('host') ?? ''
    if (loopbackOnly && !LOOPBACK_HOST.test(host)) {
      throw new Refusal({
        kind: 'forbidden',
        detail: `This service answers on this machine only, not as "${host}".`,
        field: 'Host',
        remedy: 'Open the address that the service printed at its start.',
      })
    }
    const origin = request.get('origin')
    const reads = request.method === 'GET' || request.method === 'HEAD'
    if (!reads && origin !== undefined && hostOf(origin) !== host) {
      throw new Refusal({
        kind: 'forbidden',
        detail: `A page of ${origin} may not change anything here.`,
        field: 'Origin',
        remedy: 'Open the address that the service printed at its start and do it there.',
      })
    }
    next()
  }
}

function hostOf(origin: string): string {
  try {
    return new URL(origin).host
  } catch {
    return ''
  }
}
