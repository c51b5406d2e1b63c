/** How much of photos is held in memory while senders send them: many slow links at once must not fill the machine. */
import { Refusal } from '../refusal.ts'

const MIB = 1024 ** 2
/** Some hundreds of usual photos (0.3 to 1 MB, common practice, no source), or eight of the largest. */
export const USUAL_RECEIVING_BYTES = 256 * MIB
/** A link that brings less than this in a minute (under 0.3 KB a second) has gone, or is held open on purpose. */
export const LEAST_BYTES_IN_PATIENCE = 16 * 1024
const PATIENCE_MS = 60_000

export interface Receiving {
  /** A sender that brings hardly anything for so long is let go. */
  readonly patienceMs: number
  /** Bytes promised to senders that are at it, and bytes of photos that are not written down yet. */
  heldBytes(): number
  /** Requests whose photos have all come and that are not answered yet: this machine is what they wait for. */
  inWriting(): number
  /**
   * Room for a request's photos. What a sender says it will send is set aside whole: one that was let begin is not
   * turned away in the middle.
   * @param declaredBytes null where the sender does not say
   * @throws Refusal (`unavailable`) when there is none just now, (`too large`) when there never is
   */
  hold(declaredBytes: number | null): Hold
}

export interface Hold {
  /** True where there is room for so many bytes of this request in all. */
  reaches(bytes: number): boolean
  /** The photos have all come. */
  cameWhole(): void
  /** The photos are safe, or will not come. */
  release(): void
}

export function openReceiving({
  limitBytes = USUAL_RECEIVING_BYTES,
  patienceMs = PATIENCE_MS,
}: {
  readonly limitBytes?: number | undefined
  readonly patienceMs?: number | undefined
} = {}): Receiving {
  let held = 0
  let inWriting = 0
  return {
    patienceMs,
    heldBytes: () => held,
    inWriting: () => inWriting,
    hold(declaredBytes) {
      let own = 0
      let whole = 0
      const reaches = (bytes: number) => {
        const more = Math.max(0, bytes - own)
        if (held + more > limitBytes) return false
        held += more
        own += more
        return true
      }
      if ((declaredBytes ?? 0) > limitBytes) throw neverFits(declaredBytes ?? 0, limitBytes)
      if (!reaches(declaredBytes ?? 0)) throw noRoomNow()
      return {
        reaches,
        cameWhole() {
          inWriting += 1 - whole
          whole = 1
        },
        release() {
          held -= own
          own = 0
          inWriting -= whole
          whole = 0
        },
      }
    },
  }
}

export function noRoomNow(): Refusal {
  return new Refusal({
    kind: 'unavailable',
    detail: 'Too many photos are coming in at once; this one was not taken.',
    remedy: 'Send it again after the seconds in Retry-After. What was answered for is safe.',
  })
}

export function tooSlow(): Refusal {
  return new Refusal({
    kind: 'too slow',
    detail: 'Hardly anything came for a while, so the photo was let go before it was whole.',
    remedy: 'Send it again when the link is better; a smaller picture comes through sooner.',
  })
}

function neverFits(bytes: number, limitBytes: number): Refusal {
  const megabytes = (count: number) => `${Math.round(count / MIB)} MB`
  return new Refusal({
    kind: 'too large',
    detail: `The request is ${megabytes(bytes)}; all that comes in at once may be ${megabytes(limitBytes)}.`,
    field: 'body',
    remedy: 'Send the photos in several requests.',
  })
}
