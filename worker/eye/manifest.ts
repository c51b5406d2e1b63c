/** The models' manifest: the contract every other file of the eye reads its sizes, columns and floors from. */
import { createHash } from 'node:crypto'
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { z } from 'zod'
import { Refusal } from '../../services/refusal.ts'
import { type ModelIdentity, type Name, SPECIES } from '../../services/words.ts'
import { DETECTOR_BASE } from './pool.ts'

/** The order in which the eye keeps a box's six scores, whatever the order of a model's own columns. */
export const NAMES: readonly Name[] = [...SPECIES, 'other']
const CORNERS = ['x0', 'y0', 'x1', 'y1'] as const
export type DetectorColumn = (typeof CORNERS)[number] | Name

const sha256 = z.string().regex(/^[0-9a-f]{64}$/, 'expected 64 lower-case hexadecimal digits')
/** A file of the same folder: a path could reach out of it. */
const fileName = z.string().regex(/^[\w.-]+$/, 'expected a file name without a folder')
const side = z.int().min(32).max(4096)
const picture = { type: z.literal('uint8'), layout: z.literal('NHWC'), width: side, height: side }

function columnsOf<C extends string>(wanted: readonly C[]) {
  return z
    .array(z.enum(wanted))
    .refine((columns) => columns.length === wanted.length && new Set(columns).size === wanted.length, {
      error: `expected each of ${wanted.join(', ')} once`,
    })
}

/**
 * The manifest says its pooling in sentences, for people; the numbers in them bind. A sentence of another
 * form is another rule, which this code does not know, so it is refused rather than guessed at.
 */
function sentence(form: RegExp, like: string) {
  return z.string().transform((text, check) => {
    const numbers = form.exec(text)?.slice(1).map(Number) ?? []
    if (numbers.length > 0 && numbers.every(Number.isFinite)) return numbers
    check.addIssue({ code: 'custom', message: `expected a sentence like "${like}"` })
    return z.NEVER
  })
}
const NUMBER = '(\\d+(?:\\.\\d+)?)'

/** The rule `pool.ts` follows; kept scores are pooled again long after the manifest is gone, so it is fixed. */
const POOLED_NAME = `namer(s) x (${DETECTOR_BASE} + detector(s) / sum of the detector's six scores)`

const manifestShape = z.object({
  format: z.literal(1),
  name: z.string().min(1),
  version: z.string().min(1),
  species: columnsOf(SPECIES),
  detector: z.object({
    file: fileName,
    sha256,
    input: z.object({ ...picture, name: z.string() }),
    output: z.object({
      name: z.string(),
      shape: z.tuple([z.literal('n'), z.int().positive(), z.int().positive()]),
      columns: columnsOf<DetectorColumn>([...CORNERS, ...NAMES]),
    }),
  }),
  namer: z
    .object({
      file: fileName,
      sha256,
      input: z.object({
        ...picture,
        name: z.string(),
        fit: sentence(
          new RegExp(`side ${NUMBER} x the box's longer side`),
          "side 1.12 x the box's longer side",
        ),
      }),
      output: z.object({
        species: z.object({ columns: columnsOf(NAMES) }),
        embedding: z.object({ length: z.int().positive() }),
      }),
    })
    .optional(),
  pooling: z.object({
    found: sentence(
      new RegExp(`boxes with p under ${NUMBER} are dropped`),
      'boxes with p under 0.12 are dropped',
    ),
    one_box_an_animal: sentence(
      new RegExp(
        `by more than ${NUMBER} \\(intersection over union\\) or by more than ${NUMBER} of the smaller box`,
      ),
      'by more than 0.5 (intersection over union) or by more than 0.85 of the smaller box',
    ),
    name: z.string().includes(POOLED_NAME),
    score: z.string().startsWith('sqrt(p x q(s))'),
  }),
  thresholds: z.object({ count: z.number().min(0).max(1), flag: z.number().min(0).max(1) }),
})
type Manifest = z.infer<typeof manifestShape>

/** What the pooling sentences of the manifest say, as numbers. */
export interface Pooling {
  /** Boxes whose best detector score is under it are dropped; 0 to 1. */
  readonly floor: number
  /** One box an animal: two boxes that overlap by more than this (intersection over union) are one. */
  readonly overlapLimit: number
  /** ... or by more than this share of the smaller box. */
  readonly insideLimit: number
}

export interface NamerPart {
  readonly bytes: Uint8Array
  readonly sidePx: number
  readonly inputName: string
  /** A crop's side over its box's longer side. */
  readonly cropScale: number
  /** Place in a row of the output of each of `NAMES`. */
  readonly scoreColumns: readonly number[]
  readonly embeddingLength: number
}

export interface Models {
  readonly identity: ModelIdentity
  readonly detector: {
    readonly bytes: Uint8Array
    readonly widthPx: number
    readonly heightPx: number
    readonly inputName: string
    readonly outputName: string
    readonly columnCount: number
    readonly cornerColumns: readonly number[]
    /** Place in a row of the output of each of `NAMES`. */
    readonly scoreColumns: readonly number[]
  }
  readonly namer: NamerPart | null
  readonly pooling: Pooling
  readonly thresholds: { readonly count: number; readonly flag: number }
}

const REMEDY =
  'Put back the folder as it came (git checkout models), or point to a folder whose manifest fits its files.'

function refuse(file: string, what: string): Refusal {
  return new Refusal({ kind: 'unavailable', detail: `models: ${file} ${what}`, field: file, remedy: REMEDY })
}

async function read(folder: string, file: string): Promise<Buffer> {
  try {
    return await readFile(join(folder, file))
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : String(error)
    throw refuse(file, code === 'ENOENT' ? 'is missing' : `cannot be read (${code})`)
  }
}

async function readModel(folder: string, { file, sha256 }: { file: string; sha256: string }) {
  const bytes = await read(folder, file)
  const found = createHash('sha256').update(bytes).digest('hex')
  if (found !== sha256)
    throw refuse(file, `has changed: its SHA-256 is ${found}, the manifest expects ${sha256}`)
  return bytes
}

/**
 * Parses the manifest of a folder of models, without opening the models.
 * @throws Refusal that names the file, the field and the remedy
 */
export async function readManifest(folder: string): Promise<Manifest> {
  const text = (await read(folder, 'manifest.json')).toString('utf8')
  let json: unknown
  try {
    json = JSON.parse(text)
  } catch {
    throw refuse('manifest.json', 'is not JSON')
  }
  const parsed = manifestShape.safeParse(json)
  if (parsed.success) return parsed.data
  const issue = parsed.error.issues[0]
  throw refuse('manifest.json', `field ${issue?.path.join('.') ?? ''}: ${issue?.message ?? 'does not fit'}`)
}

/**
 * Reads the manifest and the models it names. The bytes that were hashed are the bytes that are returned:
 * a file swapped after the check would not be used.
 * @throws Refusal when a file is missing or is not the one the manifest names
 */
export async function readModels(folder: string): Promise<Models> {
  const { detector, namer, pooling, thresholds, name, version } = await readManifest(folder)
  const columns = detector.output.columns
  if (detector.output.shape[2] !== columns.length)
    throw refuse('manifest.json', `field detector.output.shape: expected ${columns.length} columns`)
  return {
    identity: { name, version, detectorSha256: detector.sha256, namerSha256: namer?.sha256 ?? null },
    detector: {
      bytes: await readModel(folder, detector),
      widthPx: detector.input.width,
      heightPx: detector.input.height,
      inputName: detector.input.name,
      outputName: detector.output.name,
      columnCount: columns.length,
      cornerColumns: CORNERS.map((corner) => columns.indexOf(corner)),
      scoreColumns: NAMES.map((name) => columns.indexOf(name)),
    },
    namer: namer
      ? {
          bytes: await readModel(folder, namer),
          sidePx: namer.input.width,
          inputName: namer.input.name,
          cropScale: first(namer.input.fit),
          scoreColumns: NAMES.map((name) => namer.output.species.columns.indexOf(name)),
          embeddingLength: namer.output.embedding.length,
        }
      : null,
    pooling: {
      floor: first(pooling.found),
      overlapLimit: first(pooling.one_box_an_animal),
      insideLimit: pooling.one_box_an_animal[1] ?? 1,
    },
    thresholds,
  }
}

function first(numbers: readonly number[]): number {
  const number = numbers[0]
  if (number === undefined) throw new Error('a sentence of the manifest held no number')
  return number
}
