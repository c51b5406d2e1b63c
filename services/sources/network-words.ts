/** What went wrong on the way to a camera, in words for whoever stands at it. */
import { NotReached } from './call-out.ts'

const WORDS: Readonly<Record<string, string>> = {
  ECONNREFUSED: 'Something answers at this address, but not on this port: nothing listens there.',
  EHOSTUNREACH: 'There is no way to this address: the camera is off, or its link is.',
  ENETUNREACH: 'There is no way to this address: the link of this machine is down.',
  ETIMEDOUT: 'Nothing answers at this address: the camera is off, or its link is.',
  ENOTFOUND: 'This name is not known: it is mistyped, or the link of this machine is down.',
  EAI_AGAIN: 'The name could not be looked up: the link of this machine is down.',
  ECONNRESET: 'The camera broke the connection off.',
  EPIPE: 'The camera broke the connection off.',
  EPROTO: 'What answers does not speak https: try http.',
  ERR_SSL_WRONG_VERSION_NUMBER: 'What answers does not speak https: try http.',
}

/** Null for a fault that is not the network's. */
export function networkWords(fault: unknown): string | null {
  if (fault instanceof NotReached) return fault.message
  if (!(fault instanceof Error)) return null
  const code = 'code' in fault ? String(fault.code) : ''
  if (code in WORDS) return WORDS[code]!
  if (code.startsWith('HPE_')) return 'What answers does not speak http.'
  if (code.startsWith('ERR_SSL') || code.startsWith('ERR_TLS'))
    return `The camera and the service find no https in common (${code}).`
  if (fault.message === 'aborted') return WORDS.ECONNRESET!
  return null
}
