/** How this browser sends a card's files to the service. */
import type { CardKnown, CardPhoto } from '../../../services/http/card-doors.ts'
import { tell, tellBytes } from '../../api/ask.ts'
import type { CardPost } from './send-card.ts'

/** Browsers reckon hashes on https and on the machine itself only (W3C Web Cryptography API: a secure context). */
export const canAskFirst = (): boolean => globalThis.crypto?.subtle !== undefined

export function browserPost(cameraId: number): CardPost {
  const path = `/api/cameras/${cameraId}/card`
  return {
    known: (hashes) => tell<CardKnown>('POST', `${path}/known`, { hashes }),
    send: ({ path: name, file }, bytes) =>
      tellBytes<CardPhoto>(path, bytes, {
        'x-file-name': encodeURIComponent(name),
        'x-file-time': String(file.lastModified),
      }),
    hashOf: canAskFirst() ? sha256 : null,
    wait: (ms) =>
      new Promise((resolve) => {
        const over = () => {
          clearTimeout(timer)
          removeEventListener('online', over)
          resolve()
        }
        const timer = setTimeout(over, ms)
        addEventListener('online', over)
      }),
  }
}

async function sha256(bytes: ArrayBuffer): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes))
  return [...digest].map((byte) => byte.toString(16).padStart(2, '0')).join('')
}
