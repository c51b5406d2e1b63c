/** A camera's page on loopback, with what such pages do: passwords, half answers, moods. Its own reading of the RFCs. */
import { createHash, randomBytes } from 'node:crypto'
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http'
import { createServer as createTlsServer } from 'node:https'
import type { AddressInfo, Server, Socket } from 'node:net'

export type Handler = (request: IncomingMessage, response: ServerResponse) => void

export interface CameraServer {
  readonly port: number
  /** `http://127.0.0.1:port/snap.jpg`, or https. */
  readonly address: string
  /** Requests that came, as `GET /path` with how they were authorized. */
  readonly seen: Array<{ readonly path: string; readonly authorization: string | undefined }>
  connections(): number
  handle(handler: Handler): void
  close(): Promise<void>
}

export interface TlsFiles {
  readonly key: Buffer
  readonly cert: Buffer
}

export async function startCamera(tls?: TlsFiles): Promise<CameraServer> {
  let handler: Handler = (_request, response) => response.writeHead(500).end()
  let connections = 0
  const seen: CameraServer['seen'] = []
  const take: Handler = (request, response) => {
    seen.push({ path: request.url ?? '', authorization: request.headers.authorization })
    response.on('error', () => undefined)
    handler(request, response)
  }
  const server: Server = tls === undefined ? createServer(take) : createTlsServer(tls, take)
  const sockets = new Set<Socket>()
  server.on('connection', (socket: Socket) => {
    connections += 1
    sockets.add(socket)
    socket.on('error', () => undefined).on('close', () => sockets.delete(socket))
  })
  server.on('tlsClientError', () => undefined)
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const { port } = server.address() as AddressInfo
  return {
    port,
    address: `${tls === undefined ? 'http' : 'https'}://127.0.0.1:${port}/snap.jpg`,
    seen,
    connections: () => connections,
    handle(next) {
      handler = next
      seen.length = 0
    },
    async close() {
      for (const socket of sockets) socket.destroy()
      await new Promise((resolve) => server.close(resolve))
    },
  }
}

export const gives =
  (photo: () => Buffer): Handler =>
  (_request, response) =>
    response.writeHead(200, { 'Content-Type': 'image/jpeg' }).end(photo())

/** RFC 7617, section 2. */
export const wantsBasic =
  (user: string, password: string, then: Handler): Handler =>
  (request, response) => {
    const [scheme, token = ''] = (request.headers.authorization ?? '').split(' ')
    if (scheme === 'Basic' && Buffer.from(token, 'base64').toString() === `${user}:${password}`)
      return then(request, response)
    response.writeHead(401, { 'WWW-Authenticate': 'Basic realm="gate", charset="UTF-8"' }).end()
  }

interface DigestDoor {
  readonly algorithm: 'MD5' | 'SHA-256'
  /** A nonce serves so many requests, and is stale from then on. */
  readonly uses?: number
}

/** RFC 7616, section 3.4: each count of a nonce is taken once, so a replay is refused. */
export function wantsDigest(
  user: string,
  password: string,
  { algorithm, uses = Number.POSITIVE_INFINITY, right }: DigestDoor & { readonly right: Handler },
): Handler {
  const nonces = new Map<string, Set<number>>()
  const hash = (text: string) =>
    createHash(algorithm === 'MD5' ? 'md5' : 'sha256')
      .update(text)
      .digest('hex')
  const ask = (response: ServerResponse, stale: boolean) => {
    const nonce = randomBytes(12).toString('base64')
    nonces.set(nonce, new Set())
    const header = `Digest realm="gate", qop="auth", algorithm=${algorithm}, nonce="${nonce}", opaque="o p"${stale ? ', stale=true' : ''}`
    response.writeHead(401, { 'WWW-Authenticate': header }).end()
  }
  return (request, response) => {
    const header = request.headers.authorization ?? ''
    const field = (name: string) => new RegExp(`[ ,]${name}="?([^",]*)"?`).exec(header)?.[1] ?? ''
    const used = nonces.get(field('nonce'))
    if (!header.startsWith('Digest ') || used === undefined) return ask(response, false)
    const a1 = hash(`${user}:gate:${password}`)
    const a2 = hash(`${request.method}:${request.url}`)
    const expected = hash(`${a1}:${field('nonce')}:${field('nc')}:${field('cnonce')}:auth:${a2}`)
    const count = Number.parseInt(field('nc'), 16)
    if (field('response') !== expected || field('uri') !== request.url || used.has(count))
      return ask(response, false)
    if (used.size >= uses) return ask(response, true)
    used.add(count)
    right(request, response)
  }
}
