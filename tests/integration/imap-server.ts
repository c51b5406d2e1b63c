/** A mail server of the test's own (Dovecot) on loopback: own configuration, users, certificate and free ports. */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process'
import { X509Certificate } from 'node:crypto'
import { once } from 'node:events'
import { chmod, chown, mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir, userInfo } from 'node:os'
import { join } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import { ImapFlow } from 'imapflow'
import { freePort } from './redis-server.ts'

const PROGRAM = ['/usr/sbin/dovecot', 'dovecot'].find((name) => spawnSync(name, ['--version']).status === 0)
const LONGEST_START_MS = 20_000
/** Dovecot opens no mailbox as root; Debian's nobody. */
const NOBODY = 65_534

/** Why the tests with a mail server are skipped; null where it can be started. */
export const noImapServer: string | null =
  PROGRAM === undefined
    ? 'no dovecot on this machine (Debian: dovecot-imapd)'
    : spawnSync('openssl', ['version']).status === 0
      ? null
      : 'no openssl on this machine, for the server’s certificate'

export const IMAP_USER = 'cameras'
export const IMAP_PASSWORD = 'a long secret word'

export interface ImapServer {
  readonly plainPort: number
  readonly tlsPort: number
  /** Of its certificate, 64 lower-case digits. */
  readonly certificateSha256: string
  /** Its users and their mails stay. */
  start(): Promise<void>
  stop(): Promise<void>
  /** Does something as a mail program would, in a session of its own. */
  as<T>(work: (client: ImapFlow) => Promise<T>, user?: string): Promise<T>
  /** Puts mails into a folder; their UIDs come back. */
  put(mails: readonly (string | Buffer)[], folder?: string, user?: string): Promise<number[]>
  remove(): Promise<void>
}

export async function startImapServer(): Promise<ImapServer> {
  const folder = await mkdtemp(join(tmpdir(), 'hooftally-imap-'))
  await chmod(folder, 0o755)
  const plainPort = await freePort()
  const tlsPort = await freePort()
  await makeCertificate(folder)
  const isRoot = process.getuid?.() === 0
  const uid = isRoot ? NOBODY : (process.getuid?.() ?? NOBODY)
  const home = join(folder, 'home')
  await mkdir(home)
  if (isRoot) await chown(home, uid, uid)
  const line = `:{PLAIN}${IMAP_PASSWORD}::::::\n`
  await writeFile(join(folder, 'users'), `${IMAP_USER}${line}second${line}third${line}`, { mode: 0o644 })
  await writeFile(
    join(folder, 'dovecot.conf'),
    configuration({
      folder,
      plainPort,
      tlsPort,
      uid,
      gid: isRoot ? uid : (process.getgid?.() ?? uid),
      isRoot,
    }),
  )
  let child: ChildProcess | null = null

  async function start(): Promise<void> {
    const started = spawn(PROGRAM!, ['-F', '-c', join(folder, 'dovecot.conf')], { stdio: 'ignore' })
    child = started
    const until = Date.now() + LONGEST_START_MS
    for (;;) {
      if (started.exitCode !== null || Date.now() > until) {
        throw new Error(
          `dovecot did not start:\n${await readFile(join(folder, 'log'), 'utf8').catch(() => '')}`,
        )
      }
      const isUp = await as(async () => true).catch(() => false)
      if (isUp) return
      await wait(50)
    }
  }

  async function stop(): Promise<void> {
    const ending = child
    child = null
    if (ending === null || ending.exitCode !== null || ending.signalCode !== null) return
    const exit = once(ending, 'exit')
    ending.kill('SIGTERM')
    await exit
  }

  async function as<T>(work: (client: ImapFlow) => Promise<T>, user = IMAP_USER): Promise<T> {
    const client = new ImapFlow({
      host: '127.0.0.1',
      port: plainPort,
      secure: false,
      doSTARTTLS: false,
      auth: { user, pass: IMAP_PASSWORD },
      logger: false,
    })
    client.on('error', () => undefined)
    await client.connect()
    try {
      return await work(client)
    } finally {
      await client.logout()
    }
  }

  await start()
  const certificate = new X509Certificate(await readFile(join(folder, 'cert.pem')))
  return {
    plainPort,
    tlsPort,
    certificateSha256: certificate.fingerprint256.replaceAll(':', '').toLowerCase(),
    start,
    stop,
    as,
    put: (mails, to = 'INBOX', user = IMAP_USER) =>
      as(async (client) => {
        const uids: number[] = []
        for (const mail of mails) {
          const put = await client.append(to, mail)
          if (put === false || put.uid === undefined) throw new Error('the mail was not put there')
          uids.push(put.uid)
        }
        return uids
      }, user),
    async remove() {
      await stop()
      await rm(folder, { recursive: true, force: true })
    },
  }
}

/** Made by itself and for `localhost`, as on a station's own server. */
async function makeCertificate(folder: string): Promise<void> {
  const made = spawnSync('openssl', [
    ...['req', '-x509', '-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:prime256v1', '-nodes', '-days', '3'],
    ...['-subj', '/CN=localhost', '-addext', 'subjectAltName=DNS:localhost'],
    ...['-keyout', join(folder, 'key.pem'), '-out', join(folder, 'cert.pem')],
  ])
  if (made.status !== 0) throw new Error(`openssl made no certificate: ${made.stderr.toString()}`)
}

interface Configured {
  readonly folder: string
  readonly plainPort: number
  readonly tlsPort: number
  readonly uid: number
  readonly gid: number
  readonly isRoot: boolean
}

const groupOfUs = () => spawnSync('id', ['-gn']).stdout.toString().trim()

/** Dovecot 2.3 (doc.dovecot.org, settings). */
function configuration({ folder, plainPort, tlsPort, uid, gid, isRoot }: Configured): string {
  const user = isRoot ? 'dovecot' : userInfo().username
  return `
base_dir = ${folder}/run
state_dir = ${folder}/state
log_path = ${folder}/log
protocols = imap
listen = 127.0.0.1
default_internal_user = ${user}
${isRoot ? '' : `default_internal_group = ${groupOfUs()}`}
default_login_user = ${isRoot ? 'dovenull' : user}
disable_plaintext_auth = no
auth_mechanisms = plain login
ssl = yes
ssl_cert = <${folder}/cert.pem
ssl_key = <${folder}/key.pem
mail_location = maildir:~/Maildir
first_valid_uid = ${Math.min(uid, 500)}
mail_max_userip_connections = 100
auth_failure_delay = 0 secs
passdb {
  driver = passwd-file
  args = username_format=%u ${folder}/users
}
userdb {
  driver = static
  args = uid=${uid} gid=${gid} home=${folder}/home/%u
}
service imap-login {
  ${isRoot ? '' : 'chroot ='}
  inet_listener imap {
    port = ${plainPort}
  }
  inet_listener imaps {
    port = ${tlsPort}
    ssl = yes
  }
}
service anvil {
  ${isRoot ? '' : 'chroot ='}
  unix_listener anvil-auth-penalty {
    mode = 0
  }
}
service stats {
  ${isRoot ? '' : 'chroot ='}
}
namespace inbox {
  inbox = yes
  separator = /
}
`
}
