/** Why a file cannot be a still, in words for whoever looks at files of their own. */
import { fileKind } from '../../services/picture-formats.ts'

/** The reason, or null when the first bytes say JPEG, PNG or WebP. */
export function formatReason(bytes: Buffer): string | null {
  if (bytes.length === 0) return 'The file is empty.'
  const file = fileKind(bytes)
  if (file.kind === 'picture') return null
  return file.name === null
    ? 'The file is not a photo: it does not begin like a JPEG, PNG or WebP.'
    : `The file is ${file.name}; only JPEG, PNG and WebP photos can be read.`
}
