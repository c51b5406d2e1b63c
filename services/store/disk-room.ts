/** How much room the disk has, and when photos are no longer taken: the database must never meet a full disk. */
import { statfs } from 'node:fs/promises'
import { Refusal } from '../refusal.ts'
import type { StillFiles } from './still-files.ts'

const GIB = 1024 ** 3
const MIB = 1024 ** 2
/** Room for two of the largest photos, and for what the database writes meanwhile. */
const LEAST_RESERVE_BYTES = 64 * MIB

/** No disk fills by so much in a second: until then it need not be asked for each photo. */
const AMPLE_BYTES = 4 * GIB
const AMPLE_LASTS_MS = 1_000

export interface Room {
  readonly freeBytes: number
  readonly totalBytes: number
  /** Under so much free room no photo is taken. */
  readonly reserveBytes: number
  /** `low`: under twice the reserve. `full`: under the reserve, no photo is taken. */
  readonly state: 'well' | 'low' | 'full'
}

export interface DiskRoom {
  look(): Promise<Room>
  /** @throws Refusal (`no room`) when so many bytes more would eat into the reserve. */
  refuseIfFull(comingBytes: number): Promise<void>
}

/**
 * The reserve of a disk that nobody set one for: the larger of 1 GiB and 2 %; on a small disk no more than a tenth of
 * it, and never less than 64 MiB.
 */
export function usualReserveBytes(totalBytes: number): number {
  const wanted = Math.max(GIB, totalBytes * 0.02)
  return Math.round(Math.max(LEAST_RESERVE_BYTES, Math.min(wanted, totalBytes / 10)))
}

const spare = ({ freeBytes, reserveBytes }: Room) => freeBytes - reserveBytes

export function roomState(freeBytes: number, reserveBytes: number): Room['state'] {
  if (freeBytes < reserveBytes) return 'full'
  return freeBytes < 2 * reserveBytes ? 'low' : 'well'
}

/** The room of the disks that hold these folders: that of the fullest. `reserveBytes` undefined for the usual reserve. */
export function openDiskRoom(folders: readonly string[], reserveBytes: number | undefined): DiskRoom {
  async function look(): Promise<Room> {
    const rooms = await Promise.all(folders.map(lookAt))
    return rooms.reduce((least, room) => (spare(room) < spare(least) ? room : least))
  }

  async function lookAt(folder: string): Promise<Room> {
    const { bavail, blocks, bsize } = await statfs(folder)
    const [freeBytes, totalBytes] = [bavail * bsize, blocks * bsize]
    const reserve = reserveBytes ?? usualReserveBytes(totalBytes)
    return { freeBytes, totalBytes, reserveBytes: reserve, state: roomState(freeBytes, reserve) }
  }
  let ampleUntil = 0
  return {
    look,
    async refuseIfFull(comingBytes) {
      if (performance.now() < ampleUntil) return
      const room = await look()
      if (spare(room) > AMPLE_BYTES) ampleUntil = performance.now() + AMPLE_LASTS_MS
      const { freeBytes, reserveBytes: reserve } = room
      if (freeBytes - comingBytes >= reserve) return
      const inMegabytes = (bytes: number) => `${Math.round(bytes / MIB)} MB`
      throw new Refusal({
        kind: 'no room',
        detail: `The disk of the service is nearly full (${inMegabytes(freeBytes)} free, ${inMegabytes(reserve)} are held back); this photo was not taken.`,
        remedy:
          'Free room on that disk, or let empty photos go under Keeping photos in Set-up; then send it again. What was taken before is safe.',
      })
    },
  }
}

/** Photos come in only while there is room; what makes room, or is small, goes on. */
export function withReserve(files: StillFiles, room: DiskRoom): StillFiles {
  return {
    ...files,
    async keep(hash, bytes) {
      await room.refuseIfFull(bytes.length)
      await files.keep(hash, bytes)
    },
  }
}
