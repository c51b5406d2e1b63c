import type { Request } from 'express'
import { Refusal } from '../refusal.ts'
import type { Ledger } from '../store/open.ts'
import { findWorkerKey } from '../store/worker-keys.ts'
import { WORKER_KEY_HEADER } from './worker-headers.ts'

/** The number of the key of this request. @throws Refusal without a key, or with one that does not work. */
export async function workerKeyOfRequest(ledger: Ledger, request: Request): Promise<number> {
  const key = request.get(WORKER_KEY_HEADER)
  if (key === undefined || key === '') {
    throw new Refusal({
      kind: 'not allowed',
      detail: `The request carries no worker key in ${WORKER_KEY_HEADER}.`,
      field: WORKER_KEY_HEADER,
      remedy: 'Make a key for the machine in Set-up and send it in this header.',
    })
  }
  const keyId = await findWorkerKey(ledger, key)
  if (keyId !== null) return keyId
  throw new Refusal({
    kind: 'not allowed',
    detail: 'This worker key is not known here, or it was revoked.',
    field: WORKER_KEY_HEADER,
    remedy: 'Make a new key in Set-up, under Machines that look at photos, and start the worker with it.',
  })
}
