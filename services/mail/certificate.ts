/** The certificate that a mail server shows, by its SHA-256: for an owner who trusts that one and no authority. */
import { connect } from 'node:tls'

export interface ShownCertificate {
  readonly pem: string
  /** Of its DER bytes, 64 lower-case digits. */
  readonly sha256: string
}

export interface ServerAddress {
  readonly host: string
  readonly port: number
}

const PATIENCE_MS = 20_000

/** Asks a server that speaks TLS from the start for its certificate. Nothing is said to it, and nothing believed. */
export function shownCertificate({ host, port }: ServerAddress): Promise<ShownCertificate> {
  return new Promise((resolve, reject) => {
    const socket = connect(
      { host, port, rejectUnauthorized: false, ...(isAddress(host) ? {} : { servername: host }) },
      () => {
        const { raw } = socket.getPeerCertificate()
        const sha256 = plainDigits(socket.getPeerCertificate().fingerprint256)
        socket.destroy()
        resolve({ pem: pemOf(raw), sha256 })
      },
    )
    socket.setTimeout(PATIENCE_MS, () => socket.destroy(new Error('it does not answer')))
    socket.once('error', reject)
  })
}

/** A fingerprint as people write it, with or without colons, as 64 lower-case digits. */
export function plainDigits(fingerprint: string): string {
  return fingerprint.replaceAll(/[:\s]/g, '').toLowerCase()
}

function isAddress(host: string): boolean {
  return host.includes(':') || /^[\d.]+$/.test(host)
}

/** RFC 7468, section 5: lines of 64 signs. */
function pemOf(der: Buffer): string {
  const lines = der.toString('base64').replaceAll(/.{64}/g, '$&\n').trimEnd()
  return `-----BEGIN CERTIFICATE-----\n${lines}\n-----END CERTIFICATE-----\n`
}
