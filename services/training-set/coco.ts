/**
 * Checked photos in the COCO data format for object detection (Common Objects in Context; Lin et al. 2014,
 * doi:10.1007/978-3-319-10602-1_48; cocodataset.org, Data format).
 */
import type { Kind } from '../learning/kinds.ts'
import { type LabelledBox, type Marks, type StandingCount, truthOf } from '../learning/labels.ts'
import { type Box, SPECIES } from '../words.ts'

/** A photo with a standing word on its count. */
export interface CheckedPhoto extends StandingCount {
  readonly stillId: number
  readonly width: number
  readonly height: number
  readonly boxes: readonly LabelledBox[]
}

export interface BoxOfKind {
  readonly kind: Kind
  readonly box: Box
}

/**
 * Every animal on a photo, those drawn by a person after those that were found; null where a box could be one animal or
 * another: a training set tells of what is not boxed too. What was found and is none of the five nor a named kind may be
 * a bush, so it is not said to be an animal.
 */
export function animalsOn(photo: CheckedPhoto, marks: Marks): BoxOfKind[] | null {
  const truth = truthOf(photo, photo.boxes, marks)
  if (truth === null) return null
  // A sheep of which nobody said a word may be one.
  const told = new Set(truth.map(({ boxId }) => boxId))
  if (photo.boxes.some(({ id, ownKind }) => ownKind !== null && !told.has(id))) return null
  const boxOf = new Map(photo.boxes.map(({ id, box }) => [id, box]))
  return [
    ...truth.flatMap(({ boxId, kind }) => (kind === 'other' ? [] : [{ kind, box: boxOf.get(boxId)! }])),
    ...photo.drawn.map(({ species, box }) => ({ kind: species, box })),
  ]
}

export interface CocoImage {
  readonly id: number
  readonly width: number
  readonly height: number
  readonly file_name: string
  /** `2026-11-25 06:10:00`, station time. */
  readonly date_captured: string
}

export interface CocoAnnotation {
  readonly id: number
  readonly image_id: number
  readonly category_id: number
  /** No outline is known. */
  readonly segmentation: readonly never[]
  /** Of the box, in square pixels. */
  readonly area: number
  /** Left, top, width, height in pixels, from the top left corner. */
  readonly bbox: readonly [number, number, number, number]
  readonly iscrowd: 0
}

export interface CocoDataset {
  readonly info: Readonly<Record<'description' | 'version' | 'contributor' | 'url', string>> & {
    readonly year: number
    readonly date_created: string
  }
  readonly licenses: readonly never[]
  readonly images: readonly CocoImage[]
  readonly annotations: readonly CocoAnnotation[]
  readonly categories: ReadonlyArray<{ id: number; name: string; supercategory: 'animal' }>
}

export interface ImageWithAnimals {
  readonly image: CocoImage
  readonly animals: readonly BoxOfKind[]
}

/** The five have the numbers 1 to 5; other kinds follow in the order of their names, so theirs hold within one set only. */
export function cocoOf(images: readonly ImageWithAnimals[], info: CocoDataset['info']): CocoDataset {
  const said = new Set(images.flatMap(({ animals }) => animals.map(({ kind }) => kind)))
  const own = [...said].filter((kind) => !SPECIES.some((species) => species === kind)).sort()
  const names = [...SPECIES, ...own]
  const annotations: CocoAnnotation[] = []
  for (const { image, animals } of images)
    for (const { kind, box } of animals) {
      const bbox = bboxOf(box, image)
      annotations.push({
        id: annotations.length + 1,
        image_id: image.id,
        category_id: names.indexOf(kind) + 1,
        segmentation: [],
        area: rounded(bbox[2] * bbox[3]),
        bbox,
        iscrowd: 0,
      })
    }
  return {
    info,
    licenses: [],
    images: images.map(({ image }) => image),
    annotations,
    categories: names.map((name, i) => ({ id: i + 1, name, supercategory: 'animal' })),
  }
}

/** Models may put a box over the edge by a little; a training set must not. */
function bboxOf([x0, y0, x1, y1]: Box, { width, height }: CocoImage): CocoAnnotation['bbox'] {
  const [left, right] = [x0, x1].map((x) => Math.max(0, Math.min(width, x))) as [number, number]
  const [top, bottom] = [y0, y1].map((y) => Math.max(0, Math.min(height, y))) as [number, number]
  return [rounded(left), rounded(top), rounded(right - left), rounded(bottom - top)]
}

const rounded = (value: number): number => Math.round(value * 100) / 100
