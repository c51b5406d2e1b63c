/** What a sender that can only call an address puts behind the question mark. */
import { z } from 'zod'
import { instantDoor } from './doors.ts'

const percent = z.coerce.number().min(0).max(100)

/** GET /api/k/:key/heartbeats */
export const heartbeatQuery = z.strictObject({
  at: instantDoor.optional(),
  batteryPercent: percent.optional(),
  temperatureC: z.coerce.number().min(-60).max(90).optional(),
  signalPercent: percent.optional(),
  freeBytes: z.coerce.number().nonnegative().optional(),
})

/** GET /api/k/:key/levels */
export const levelQuery = z.strictObject({ levelPercent: percent, at: instantDoor.optional() })
