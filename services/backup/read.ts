/** Reads a backup from front to back, and gives nothing that its own sums do not prove. */
import { createReadStream } from 'node:fs'
import { extract as openTar } from 'tar-stream'
import { Refusal } from '../refusal.ts'
import {
  damaged,
  END,
  type End,
  endShape,
  FORMAT_VERSION,
  LARGEST_PART_BYTES,
  MANIFEST,
  type Manifest,
  manifestShape,
  noBackup,
  readPartName,
  sha256Of,
  startSum,
} from './format.ts'

export type Part =
  | { readonly kind: 'manifest'; readonly manifest: Manifest }
  | { readonly kind: 'rows'; readonly table: string; readonly bytes: Buffer }
  | { readonly kind: 'photo'; readonly hash: Buffer; readonly bytes: Buffer }
  | { readonly kind: 'preview'; readonly hash: Buffer; readonly bytes: Buffer }
  /** Comes last, and only when all before it was whole. */
  | { readonly kind: 'end'; readonly end: End }

/**
 * The parts of the backup at `path`, the manifest first.
 * @throws Refusal for a file that is not there, is no backup, is a newer Hooftally's, was cut short or changed.
 */
export async function* readBackup(path: string, signal: AbortSignal): AsyncGenerator<Part> {
  const tar = openTar()
  const file = createReadStream(path, { signal })
  // Told by the loop below, which the same fault ends.
  file.once('error', (fault) => tar.destroy(fault))
  file.pipe(tar)
  let sum: ReturnType<typeof startSum> | null = null
  let end: End | null = null
  try {
    for await (const entry of tar) {
      const bytes = await bytesOf(entry, path)
      const { name } = entry.header
      if (sum === null) {
        if (name !== MANIFEST) throw noBackup(path)
        const manifest = readManifest(bytes, path)
        sum = startSum(bytes)
        yield { kind: 'manifest', manifest }
      } else if (end !== null) {
        throw damaged(path, `something follows its end (${name})`)
      } else if (name === END) {
        end = readEnd(bytes, path)
        const { parts, sum: proved } = sum.end()
        if (end.parts !== parts || end.sum !== proved) throw damaged(path, 'parts of it are missing')
      } else {
        sum.add(name)
        yield readPart({ name, bytes }, path)
      }
    }
  } catch (fault) {
    throw refusalOf(fault, { path, begun: sum !== null })
  } finally {
    file.destroy()
  }
  if (end === null) throw sum === null ? noBackup(path) : damaged(path, 'it was cut short')
  yield { kind: 'end', end }
}

function readPart({ name, bytes }: { readonly name: string; readonly bytes: Buffer }, path: string): Part {
  const part = readPartName(name)
  if (part === null) throw damaged(path, `it holds "${name}", which no backup has`)
  if (sha256Of(bytes) !== part.sha256) throw damaged(path, `${name} is not what was written`)
  if (part.kind === 'rows') return { kind: 'rows', table: part.table, bytes }
  const hash = Buffer.from(part.kind === 'photo' ? part.sha256 : part.photo, 'hex')
  return { kind: part.kind, hash, bytes }
}

function readManifest(bytes: Buffer, path: string): Manifest {
  const value = json(bytes)
  const formatVersion =
    value !== null && typeof value === 'object' && 'formatVersion' in value && value.formatVersion
  if (typeof formatVersion === 'number' && formatVersion > FORMAT_VERSION) {
    throw new Refusal({
      kind: 'conflict',
      detail: `${path} was written by a newer Hooftally, in a form that this one does not read.`,
      field: 'FILE',
      remedy: 'Restore it with the Hooftally that wrote it, or a newer one. Nothing was changed.',
    })
  }
  const result = manifestShape.safeParse(value)
  if (!result.success) throw damaged(path, 'its manifest cannot be read')
  return result.data
}

function readEnd(bytes: Buffer, path: string): End {
  const result = endShape.safeParse(json(bytes))
  if (!result.success) throw damaged(path, 'its end cannot be read')
  return result.data
}

function json(bytes: Buffer): unknown {
  try {
    return JSON.parse(bytes.toString('utf8'))
  } catch {
    return null
  }
}

interface Entry extends AsyncIterable<unknown> {
  readonly header: { readonly name: string; readonly size?: number | undefined }
}

async function bytesOf(entry: Entry, path: string): Promise<Buffer> {
  const { size, name } = entry.header
  if (size === undefined || size > LARGEST_PART_BYTES) throw damaged(path, `${name} is too large for a part`)
  const chunks: Buffer[] = []
  for await (const chunk of entry) chunks.push(chunk as Buffer)
  return Buffer.concat(chunks)
}

function refusalOf(fault: unknown, { path, begun }: { path: string; begun: boolean }): unknown {
  if (fault instanceof Refusal || !(fault instanceof Error)) return fault
  const code = 'code' in fault ? fault.code : undefined
  if (code === 'ABORT_ERR') return fault
  if (typeof code === 'string') {
    return new Refusal({
      kind: 'not found',
      detail: `${path} could not be read (${fault.message}).`,
      field: 'FILE',
      remedy: 'Check the name of the file, and that you may read it.',
    })
  }
  // Whatever else comes out of here is the reader of tar files speaking of what it met.
  return begun ? damaged(path, fault.message.toLowerCase()) : noBackup(path)
}
