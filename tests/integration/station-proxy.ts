/** Stands between workers and the service, to fail as a network does: nothing behind it notices. */
import { once } from 'node:events'
import { createServer, request, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'

export interface StationProxy {
  readonly address: string
  /** `METHOD /path`, in order. */
  readonly asked: readonly string[]
  /** Called when the service has answered and the worker has not heard it yet; `drop` ends the connection instead. */
  onAnswer: ((what: string) => 'pass' | 'drop') | null
  /** `503`: as if nothing stood behind it. `drop`: connections end without an answer. */
  away: '503' | 'drop' | null
  close(): Promise<void>
}

export async function openProxy(target: string): Promise<StationProxy> {
  const asked: string[] = []
  const proxy: Omit<StationProxy, 'address' | 'close'> = { asked, onAnswer: null, away: null }
  const server: Server = createServer((from, to) => {
    const what = `${from.method} ${from.url}`
    asked.push(what)
    if (proxy.away === 'drop') return void from.socket.destroy()
    if (proxy.away === '503') return void to.writeHead(503, { 'Retry-After': '1' }).end()
    const url = new URL(from.url ?? '/', target)
    const on = request(
      url,
      { method: from.method, headers: { ...from.headers, host: url.host } },
      async (answer) => {
        const parts: Buffer[] = []
        for await (const part of answer) parts.push(part)
        if (proxy.onAnswer?.(what) === 'drop') return void from.socket.destroy()
        to.writeHead(answer.statusCode ?? 500, answer.headers).end(Buffer.concat(parts))
      },
    )
    on.once('error', () => from.socket.destroy())
    from.pipe(on)
  })
  server.listen(0, '127.0.0.1')
  await once(server, 'listening')
  return Object.assign(proxy, {
    address: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    async close() {
      server.closeAllConnections()
      server.close()
      await once(server, 'close')
    },
  })
}
