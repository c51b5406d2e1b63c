/** A server that speaks S3 (moto, from PyPI) on a free port, with an empty bucket in it; gone at the end. */
import { execFileSync, spawn } from 'node:child_process'
import { once } from 'node:events'
import { type AddressInfo, connect, createServer, type Socket } from 'node:net'
import { setTimeout as wait } from 'node:timers/promises'
import {
  CreateBucketCommand,
  DeleteObjectCommand,
  GetObjectCommand,
  ListObjectsV2Command,
  PutObjectCommand,
  S3Client,
} from '@aws-sdk/client-s3'

/** Python and its web framework take their time on a busy machine. */
const START_PATIENCE_MS = 90_000

/** Why the tests against it are skipped; null where it is there. */
export const noS3Server: string | null = findServer() === null ? 'moto_server is not installed' : null

export const BUCKET = 'photos'

export interface S3Server {
  /** `http://127.0.0.1:PORT`, of a line that can be cut. */
  readonly endpoint: string
  /** Keys of what lies in the bucket. */
  keys(): Promise<string[]>
  get(key: string): Promise<Buffer>
  put(key: string, bytes: Buffer): Promise<void>
  remove(key: string): Promise<void>
  /** Nobody answers at the endpoint any more; what the bucket holds stays. */
  cutLine(): Promise<void>
  mendLine(): Promise<void>
  stop(): Promise<void>
}

function findServer(): string | null {
  const named = process.env.HOOFTALLY_TEST_MOTO
  const program = named === undefined || named === '' ? 'moto_server' : named
  try {
    execFileSync(program, ['--help'], { stdio: 'ignore', timeout: START_PATIENCE_MS })
    return program
  } catch {
    return null
  }
}

/** Any keys will do for moto; the SDK wants some, and takes them from the environment as for a real store. */
export function setCredentials(): void {
  process.env.AWS_ACCESS_KEY_ID = 'test'
  process.env.AWS_SECRET_ACCESS_KEY = 'test'
}

export async function startS3Server(): Promise<S3Server> {
  setCredentials()
  const port = await freePort()
  const server = spawn(findServer()!, ['-H', '127.0.0.1', '-p', String(port)], {
    stdio: ['ignore', 'ignore', 'pipe'],
  })
  let said = ''
  server.stderr.setEncoding('utf8').on('data', (text: string) => {
    said = (said + text).slice(-2_000)
  })
  const ended = once(server, 'exit')
  const client = new S3Client({
    endpoint: `http://127.0.0.1:${port}`,
    forcePathStyle: true,
    region: 'us-east-1',
    maxAttempts: 1,
  })
  const until = Date.now() + START_PATIENCE_MS
  for (;;) {
    try {
      await client.send(new CreateBucketCommand({ Bucket: BUCKET }))
      break
    } catch (fault) {
      if (server.exitCode !== null || Date.now() > until) {
        server.kill('SIGKILL')
        throw new Error(`the S3 server did not start: ${String(fault)}\n${said}`)
      }
      await wait(100)
    }
  }
  const line = await openLine(port)
  return {
    endpoint: `http://127.0.0.1:${line.port}`,
    cutLine: line.cut,
    mendLine: line.mend,
    async keys() {
      const { Contents = [] } = await client.send(new ListObjectsV2Command({ Bucket: BUCKET }))
      return Contents.map(({ Key }) => Key ?? '')
    },
    async get(Key) {
      const { Body } = await client.send(new GetObjectCommand({ Bucket: BUCKET, Key }))
      return Buffer.from(await Body!.transformToByteArray())
    },
    async put(Key, Body) {
      await client.send(new PutObjectCommand({ Bucket: BUCKET, Key, Body }))
    },
    async remove(Key) {
      await client.send(new DeleteObjectCommand({ Bucket: BUCKET, Key }))
    },
    async stop() {
      client.destroy()
      await line.cut()
      server.kill('SIGTERM')
      const hard = setTimeout(() => server.kill('SIGKILL'), 5_000)
      await ended
      clearTimeout(hard)
    },
  }
}

/** Passes everything on to a port of this machine, until it is cut. */
async function openLine(to: number) {
  const sockets = new Set<Socket>()
  const hold = (socket: Socket) => {
    sockets.add(socket)
    socket.on('error', () => socket.destroy()).on('close', () => sockets.delete(socket))
  }
  const open = async (port: number) => {
    const server = createServer((near) => {
      const far = connect(to, '127.0.0.1')
      hold(near)
      hold(far)
      near.pipe(far).pipe(near)
    })
    server.listen(port, '127.0.0.1')
    await once(server, 'listening')
    return server
  }
  let server = await open(0)
  const { port } = server.address() as AddressInfo
  return {
    port,
    async cut() {
      if (!server.listening) return
      server.close()
      for (const socket of sockets) socket.destroy()
      await once(server, 'close')
    },
    async mend() {
      if (server.listening) return
      server = await open(port)
    },
  }
}

async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1')
  await once(server, 'listening')
  const { port } = server.address() as AddressInfo
  server.close()
  await once(server, 'close')
  return port
}
