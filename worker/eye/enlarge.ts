/**
 * Bicubic enlarging by the runtime that runs the models. A still's many small crops are most of what it costs beside
 * the models; the picture library enlarges them pixel by pixel, this in two passes, at a third of the time.
 */
import ort from 'onnxruntime-node'
import { attribute, INT64, node, onnxModel, UINT8 } from './onnx-graph.ts'
import { CHANNELS, type Pixels } from './pixels.ts'

export interface Enlarger {
  /** Resizes by cubic convolution (Keys 1981, doi:10.1109/TASSP.1981.1163711, a = -0.5), weights within the picture alone. */
  enlarge(picture: Pixels, to: { readonly width: number; readonly height: number }): Promise<Uint8Array>
  close(): Promise<void>
}

/** Sizes differ from crop to crop: an arena would keep a block for each. */
const SESSION_OPTIONS = { intraOpNumThreads: 1, interOpNumThreads: 1, enableCpuMemArena: false }

export async function openEnlarger(): Promise<Enlarger> {
  const session = await ort.InferenceSession.create(enlargingModel(), SESSION_OPTIONS)
  return {
    async enlarge({ data, width, height }, to) {
      const size = BigInt64Array.from([1, CHANNELS, to.height, to.width].map(BigInt))
      const out = await session.run({
        picture: new ort.Tensor('uint8', data, [1, height, width, CHANNELS]),
        size: new ort.Tensor('int64', size, [size.length]),
      })
      const enlarged = out.enlarged?.data
      if (!(enlarged instanceof Uint8Array)) throw new Error('enlarging gave no bytes')
      return enlarged
    },
    close: () => session.release(),
  }
}

/**
 * `Resize` wants its channels first; the two `Transpose` put them there and back.
 * With `antialias` ONNX Runtime takes its fast path for bytes, which for enlarging gives the same pixels.
 */
function enlargingModel(): Uint8Array {
  return onnxModel({
    name: 'enlarge',
    operatorSet: 18,
    parts: [
      node('Transpose', [['picture'], 'planes'], attribute.ints('perm', [0, 3, 1, 2])),
      node(
        'Resize',
        [['planes', '', '', 'size'], 'large'],
        attribute.string('mode', 'cubic'),
        attribute.float('cubic_coeff_a', -0.5),
        attribute.int('antialias', 1),
        attribute.int('exclude_outside', 1),
        attribute.string('coordinate_transformation_mode', 'half_pixel'),
      ),
      node('Transpose', [['large'], 'enlarged'], attribute.ints('perm', [0, 2, 3, 1])),
    ],
    inputs: [
      { name: 'picture', type: UINT8, dimensions: [1, 'height', 'width', CHANNELS] },
      { name: 'size', type: INT64, dimensions: [4] },
    ],
    output: { name: 'enlarged', type: UINT8, dimensions: [1, 'to_height', 'to_width', CHANNELS] },
  })
}
