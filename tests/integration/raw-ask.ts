/** Requests with headers that fetch would not let a test set, or would add to. */
import { type ClientRequest, request } from 'node:http'
import type { TestService } from './service.ts'

export interface RawAnswer {
  readonly status: number
  readonly body: string
}

export async function rawAsk(
  { address }: TestService,
  path: string,
  { method = 'GET', headers = {} }: { readonly method?: string; readonly headers?: Record<string, string> },
): Promise<RawAnswer> {
  // A connection of its own: one that an earlier refusal is about to end must not be used again.
  const asking = request(`${address}${path}`, { method, headers, agent: false })
  asking.end()
  return await answerOf(asking)
}

export function answerOf(asking: ClientRequest): Promise<RawAnswer> {
  return new Promise((resolve, reject) => {
    asking.once('error', reject)
    asking.once('response', async (response) => {
      let body = ''
      response.setEncoding('utf8')
      for await (const part of response) body += part
      resolve({ status: response.statusCode ?? 0, body })
    })
  })
}
