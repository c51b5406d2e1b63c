/** A connection to a mailbox over IMAP (RFC 9051, RFC 3501), encrypted unless its owner wants it plain. */
import type { ConnectionOptions } from 'node:tls'
import { ImapFlow } from 'imapflow'
import type { MailboxSettings } from '../store/mailboxes.ts'
import { plainDigits, shownCertificate } from './certificate.ts'
import { WrongCertificate } from './mail-fault.ts'

export type MailServer = Pick<
  MailboxSettings,
  'host' | 'port' | 'security' | 'certificate_sha256' | 'user_name' | 'password'
>

const CONNECT_MS = 30_000
const GREETING_MS = 20_000
/** IDLE is begun anew long before the 29 minutes after which servers hang up (RFC 2177). */
const LONGEST_IDLE_MS = 5 * 60_000
const SOCKET_MS = 10 * 60_000
const IDLE_AFTER_MS = 1_000
/** Of one answer: the largest mail that is read, and what stands round it. */
const MOST_LITERAL_BYTES = 80 * 1024 * 1024

/** Connected and let in, no folder open. Its `error` and `close` are for the caller. @throws whatever went wrong, whole */
export async function openMailSession(server: MailServer): Promise<ImapFlow> {
  const client = new ImapFlow({
    host: server.host,
    port: server.port,
    secure: server.security === 'tls',
    // Required, not merely used where offered: else whoever sits between could take the offer away.
    ...(server.security !== 'tls' && { doSTARTTLS: server.security === 'starttls' }),
    tls: await trusted(server),
    auth: { user: server.user_name, pass: server.password },
    // What goes over the wire holds the password.
    logger: false,
    clientInfo: { name: 'Hooftally' },
    connectionTimeout: CONNECT_MS,
    greetingTimeout: GREETING_MS,
    socketTimeout: SOCKET_MS,
    autoIdleDelay: IDLE_AFTER_MS,
    maxIdleTime: LONGEST_IDLE_MS,
    maxLiteralSize: MOST_LITERAL_BYTES,
    maxResponseSize: MOST_LITERAL_BYTES + 1024 * 1024,
  })
  // A connection that dies while nobody asks it anything must not end the process.
  client.on('error', () => undefined)
  try {
    await client.connect()
    return client
  } catch (fault) {
    client.close()
    throw fault
  }
}

/**
 * What is believed of the server's certificate: what a known authority vouches for, for this name; or the one whose
 * SHA-256 the owner gave, whoever made it. It is asked for first and held against it again as the connection is made.
 */
async function trusted({ host, port, certificate_sha256: pinned }: MailServer): Promise<ConnectionOptions> {
  if (pinned === null) return { rejectUnauthorized: true, minVersion: 'TLSv1.2' }
  const shown = await shownCertificate({ host, port })
  if (shown.sha256 !== pinned) throw new WrongCertificate(shown.sha256)
  return {
    rejectUnauthorized: true,
    minVersion: 'TLSv1.2',
    ca: shown.pem,
    // One that an authority of the owner's made stands for itself here.
    allowPartialTrustChain: true,
    checkServerIdentity: (_name, certificate) => {
      const sha256 = plainDigits(certificate.fingerprint256)
      return sha256 === pinned ? undefined : new WrongCertificate(sha256)
    },
  }
}
