import type { Request } from 'express'
import type { IntakeDesk } from '../intake/desk.ts'
import { Refusal } from '../refusal.ts'
import type { CameraRow } from '../store/cameras.ts'

/** The header a camera, or whatever forwards for it, carries its key in. */
export const CAMERA_KEY_HEADER = 'X-Camera-Key'

/**
 * The camera that sends this request, by the key in its address or in the header.
 * @throws Refusal without a key, or with one that no camera has.
 */
export async function cameraOfRequest(desk: IntakeDesk, request: Request): Promise<CameraRow> {
  const inAddress: unknown = request.params.key
  const place = typeof inAddress === 'string' ? 'the address' : CAMERA_KEY_HEADER
  const key = typeof inAddress === 'string' ? inAddress : request.get(CAMERA_KEY_HEADER)
  if (key === undefined || key === '') {
    throw new Refusal({
      kind: 'not allowed',
      detail: `The request carries no camera key in ${CAMERA_KEY_HEADER}.`,
      field: CAMERA_KEY_HEADER,
      remedy: 'Make a key for the camera in Set-up and send it in this header.',
    })
  }
  const camera = await desk.cameraByKey(key)
  if (camera !== null) return camera
  throw new Refusal({
    kind: 'not allowed',
    detail: `No camera has the key in ${place}.`,
    field: CAMERA_KEY_HEADER,
    remedy: 'Make a new key for the camera in Set-up; an older one stops working when a new one is made.',
  })
}
