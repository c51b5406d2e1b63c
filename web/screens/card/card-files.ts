/** The files of a card or folder as a browser hands them over: chosen, or dropped on the page. */

export interface CardFile {
  /** Its name with the folders above it: `DCIM/100/a.jpg`. */
  readonly path: string
  readonly file: Pick<File, 'name' | 'size' | 'type' | 'lastModified' | 'slice' | 'arrayBuffer'>
}

export interface SortedOut {
  /** In the order of their names. */
  readonly photos: readonly CardFile[]
  /** What is no photo, by its bytes and by its name: a log, a clip. */
  readonly leftAside: readonly string[]
}

const PHOTO_NAME = /\.(jpe?g|png|webp)$/i
/** Of JPEG, PNG and WebP: services/picture-formats.ts has the standards. */
const JPEG = [0xff, 0xd8, 0xff]
const PNG = [0x89, 0x50, 0x4e, 0x47]
const RIFF = [0x52, 0x49, 0x46, 0x46]
const WEBP = [0x57, 0x45, 0x42, 0x50]
const SIGN_BYTES = 12

export function chosenFiles(list: FileList | null): CardFile[] {
  return [...(list ?? [])].map((file) => ({ path: file.webkitRelativePath || file.name, file }))
}

/** Folders are gone through to their last file. To be called while the drop is handled: later its items are empty. */
export async function droppedFiles(items: DataTransferItemList): Promise<CardFile[]> {
  const entries = [...items].flatMap((item) => item.webkitGetAsEntry() ?? [])
  return (await Promise.all(entries.map(filesOf))).flat()
}

async function filesOf(entry: FileSystemEntry): Promise<CardFile[]> {
  if (isFile(entry)) {
    const file = await new Promise<File>((resolve, reject) => entry.file(resolve, reject))
    return [{ path: entry.fullPath.replace(/^\//, ''), file }]
  }
  if (!isFolder(entry)) return []
  const reader = entry.createReader()
  const files: CardFile[] = []
  for (;;) {
    // A reader gives some hundred at a time, and none once it has given all.
    const some = await new Promise<FileSystemEntry[]>((resolve, reject) =>
      reader.readEntries(resolve, reject),
    )
    if (some.length === 0) return files
    for (const one of some) files.push(...(await filesOf(one)))
  }
}

const isFile = (entry: FileSystemEntry): entry is FileSystemFileEntry => entry.isFile
const isFolder = (entry: FileSystemEntry): entry is FileSystemDirectoryEntry => entry.isDirectory

/** A card's bin and thumbnails lie in folders that begin with a dot; they are nobody's photos. */
export async function sortOut(files: readonly CardFile[]): Promise<SortedOut> {
  const seen = files.filter(({ path }) => !path.split('/').some((part) => part.startsWith('.')))
  const photos: CardFile[] = []
  const leftAside: string[] = []
  for (const one of seen.toSorted((a, b) => (a.path < b.path ? -1 : 1))) {
    // What says it is a photo is sent even if it is none: the service then tells why it can't be read.
    if (PHOTO_NAME.test(one.file.name) || (await beginsAsPhoto(one))) photos.push(one)
    else leftAside.push(one.path)
  }
  return { photos, leftAside }
}

async function beginsAsPhoto({ file }: CardFile): Promise<boolean> {
  const head = await file
    .slice(0, SIGN_BYTES)
    .arrayBuffer()
    .then((buffer) => new Uint8Array(buffer))
    .catch(() => new Uint8Array())
  const stands = (sign: readonly number[], at = 0) => sign.every((byte, i) => head[at + i] === byte)
  return stands(JPEG) || stands(PNG) || (stands(RIFF) && stands(WEBP, 8))
}
