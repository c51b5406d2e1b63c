/** What went wrong with a mail server, in words for who set the mailbox up. Never holds the password. */
import { Refusal } from '../refusal.ts'

export interface MailFault {
  readonly reason: string
  readonly remedy: string
  /** The name or password is wrong: asked often, the server would lock the mailbox. */
  readonly notLetIn: boolean
}

export interface AskedServer {
  readonly host: string
  readonly port: number
  readonly folder: string
  /** That the server showed, where it could be asked for. */
  readonly shownSha256?: string | undefined
}

const NETWORK: Readonly<Record<string, string>> = {
  ENOTFOUND: 'there is no server of that name',
  EAI_AGAIN: 'the name could not be looked up; the link may be down',
  ECONNREFUSED: 'nothing answers at that port',
  EHOSTUNREACH: 'there is no way to it from here',
  ENETUNREACH: 'there is no way to it from here; the link may be down',
  ETIMEDOUT: 'it does not answer',
  CONNECT_TIMEOUT: 'it does not answer',
  GREETING_TIMEOUT: 'something answers there and does not speak as a mail server does',
  ETIMEOUT: 'it stopped answering',
  ECONNRESET: 'it broke off',
  EPIPE: 'it broke off',
  NoConnection: 'it broke off',
  EConnectionClosed: 'it broke off',
  ClosedAfterConnectTLS: 'it broke off before it said anything',
  ClosedAfterConnectText: 'it broke off before it said anything; it may want TLS',
  ERR_SSL_WRONG_VERSION_NUMBER: 'it does not speak TLS at that port',
  ERR_SSL_PACKET_LENGTH_TOO_LONG: 'it does not speak TLS at that port',
}

/** Node.js, tls: codes of certificates that are not believed. */
const CERTIFICATE: Readonly<Record<string, string>> = {
  DEPTH_ZERO_SELF_SIGNED_CERT: 'its certificate is one it made itself',
  SELF_SIGNED_CERT_IN_CHAIN: 'its certificate comes from an authority that this machine does not know',
  UNABLE_TO_VERIFY_LEAF_SIGNATURE: 'its certificate comes from an authority that this machine does not know',
  UNABLE_TO_GET_ISSUER_CERT: 'its certificate comes from an authority that this machine does not know',
  UNABLE_TO_GET_ISSUER_CERT_LOCALLY:
    'its certificate comes from an authority that this machine does not know',
  CERT_HAS_EXPIRED: 'its certificate has expired',
  CERT_NOT_YET_VALID: 'its certificate is not valid yet; look at this machine’s clock',
  ERR_TLS_CERT_ALTNAME_INVALID: 'its certificate is for another name',
}

export class WrongCertificate extends Error {
  readonly shownSha256: string
  constructor(shownSha256: string) {
    super('the server shows another certificate')
    this.name = 'WrongCertificate'
    this.shownSha256 = shownSha256
  }
}

export function mailFaultOf(fault: unknown, server: AskedServer): MailFault {
  const at = `${server.host}, port ${server.port}`
  const told = (reason: string, remedy: string, notLetIn = false) => ({ reason, remedy, notLetIn })
  if (fault instanceof Refusal) return told(fault.message, fault.remedy)
  if (fault instanceof WrongCertificate) {
    return told(
      `${at}: it shows another certificate than the one you trust: ${fault.shownSha256}.`,
      'Ask whoever keeps the server whether its certificate was changed; only then enter the new one.',
    )
  }
  if (isMarked(fault, 'authenticationFailed')) {
    return told(
      `${at}: it did not let us in${serverSaid(fault)}.`,
      'Check the user name and the password. Many providers want a password made for one program (an app password), or IMAP turned on.',
      true,
    )
  }
  if (isMarked(fault, 'mailboxMissing')) {
    return told(
      `${at}: there is no folder "${server.folder}".`,
      'Write the folder’s name as the server has it, with folders above it: INBOX/Cameras, or INBOX.Cameras.',
    )
  }
  const code = codeOf(fault)
  const certificate = CERTIFICATE[code]
  if (certificate !== undefined) {
    const shown = server.shownSha256 === undefined ? '' : ` Its SHA-256 is ${server.shownSha256}.`
    return told(
      `${at}: ${certificate}.${shown}`,
      'Check the server’s name. For a server of your own, compare the certificate’s SHA-256 on the server itself and enter it as the one you trust.',
    )
  }
  const network = NETWORK[code]
  if (network !== undefined) {
    return told(
      `${at}: ${network}.`,
      'Check the server’s name, its port and the link. It is tried again by itself.',
    )
  }
  return told(`${at}: ${messageOf(fault)}.`, 'It is tried again by itself. If it stays, look at the log.')
}

function isMarked(fault: unknown, mark: 'authenticationFailed' | 'mailboxMissing'): boolean {
  return fault instanceof Error && mark in fault && (fault as Error & Record<string, unknown>)[mark] === true
}

/** A server's own words; they are about us, not from us, so no password is in them. */
function serverSaid(fault: unknown): string {
  if (!(fault instanceof Error) || !('response' in fault) || typeof fault.response !== 'string') return ''
  return fault.response === '' ? '' : ` ("${fault.response.slice(0, 120)}")`
}

function codeOf(fault: unknown): string {
  return fault instanceof Error && 'code' in fault ? String(fault.code) : ''
}

function messageOf(fault: unknown): string {
  const said = fault instanceof Error && 'responseText' in fault ? fault.responseText : undefined
  if (typeof said === 'string' && said !== '') return `the server says "${said.slice(0, 120)}"`
  return (fault instanceof Error ? fault.message : String(fault)).slice(0, 200)
}
