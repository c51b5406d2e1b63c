/** A camera at an address in all its moods: it asks for a password, breaks off, hangs, forgets, and now and then gives a photo. */
import { type CameraServer, type Handler, startCamera, wantsDigest } from '../integration/camera-server.ts'
import { photoLike } from '../integration/stub-photos.ts'
import type { Chance } from '../unit/tally/chance.ts'

export const USER = 'gate'
export const PASSWORD = 'creek'

export interface MoodyCamera {
  readonly address: string
  /** Photos that were given whole, as far as the camera knows. */
  given(): readonly Buffer[]
  /** How often it was in each mood. */
  readonly moods: Record<string, number>
  close(): Promise<void>
}

const MOODS = ['storm', 'reset', 'half', 'chunks', 'error', 'page', 'hangs', 'forgets'] as const
const TROUBLE = 0.4
/** A real second each: seldom. */
const HANGS = 0.03

export async function startMoodyCamera(chance: Chance): Promise<MoodyCamera> {
  const server: CameraServer = await startCamera()
  const given: Buffer[] = []
  const moods: Record<string, number> = {}
  let storming = 0
  let made = 0
  const door = () =>
    wantsDigest(USER, PASSWORD, { algorithm: 'SHA-256', uses: 4, right: (...asked) => void answer(...asked) })
  let open = door()

  const answer = async (...[_request, response]: Parameters<Handler>) => {
    const mood = draw()
    moods[mood] = (moods[mood] ?? 0) + 1
    made += 1
    const photo = await photoLike(`camera ${made} ${chance.whole(0, 1e9)}`)
    switch (mood) {
      case 'storm':
        storming = chance.whole(3, 12)
        return response
          .writeHead(401, { 'WWW-Authenticate': 'Digest realm="gate", nonce="x", qop="auth"' })
          .end()
      case 'reset':
        return response.socket?.resetAndDestroy()
      case 'half':
        response.writeHead(200, { 'Content-Length': String(photo.length) })
        return response.write(photo.subarray(0, 120), () => response.destroy())
      case 'chunks':
        response.writeHead(200)
        return response.write(photo.subarray(0, 120), () => response.destroy())
      case 'error':
        return response.writeHead(500).end('busy')
      case 'page':
        return response.writeHead(200).end('<!DOCTYPE html><title>Log in</title>')
      case 'hangs':
        return
      case 'forgets':
        open = door()
        return response.writeHead(503).end()
      default:
        given.push(photo)
        response.writeHead(200, { 'Content-Type': 'image/jpeg' }).end(photo)
    }
  }
  const draw = () => {
    if (chance.uniform() > TROUBLE) return 'gives'
    const mood = MOODS[chance.whole(0, MOODS.length - 1)]!
    return mood === 'hangs' && chance.uniform() > HANGS * 10 ? 'reset' : mood
  }
  server.handle((request, response) => {
    if (storming === 0) return open(request, response)
    storming -= 1
    response.writeHead(401, { 'WWW-Authenticate': 'Basic realm="gate"' }).end()
  })
  return { address: server.address, given: () => given, moods, close: () => server.close() }
}
