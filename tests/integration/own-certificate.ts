/** A certificate that nobody else trusts, as cameras make themselves; made by openssl, where there is one. */
import { execFileSync, spawnSync } from 'node:child_process'
import { createHash, X509Certificate } from 'node:crypto'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { TlsFiles } from './camera-server.ts'

/** Why there is none, or null. */
export const noOpenssl: string | null =
  spawnSync('openssl', ['version']).status === 0 ? null : 'this machine has no openssl'

export function makeCertificate(): TlsFiles & { readonly sha256: string } {
  const folder = mkdtempSync(join(tmpdir(), 'hooftally-certificate-'))
  try {
    const [keyFile, certFile] = [join(folder, 'key.pem'), join(folder, 'cert.pem')]
    const curve = ['-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:prime256v1', '-nodes']
    const about = ['-subj', '/CN=gate camera', '-addext', 'subjectAltName=IP:127.0.0.1', '-days', '2']
    const files = ['-keyout', keyFile, '-out', certFile]
    execFileSync('openssl', ['req', '-x509', ...curve, ...about, ...files], { stdio: 'ignore' })
    const cert = readFileSync(certFile)
    const sha256 = createHash('sha256').update(new X509Certificate(cert).raw).digest('hex')
    return { key: readFileSync(keyFile), cert, sha256 }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}
