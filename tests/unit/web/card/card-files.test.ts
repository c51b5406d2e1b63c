import { expect, test } from 'vitest'
import { type CardFile, droppedFiles, sortOut } from '../../../../web/screens/card/card-files.ts'

function file(path: string, ...bytes: readonly number[]): CardFile {
  const blob = new Blob([new Uint8Array(bytes)])
  const name = path.split('/').at(-1) ?? ''
  return { path, file: Object.assign(blob, { name, lastModified: 0 }) as unknown as CardFile['file'] }
}
const JPEG = [0xff, 0xd8, 0xff, 0xe0]
const sorted = async (...files: readonly CardFile[]) => {
  const { photos, leftAside } = await sortOut(files)
  return { photos: photos.map(({ path }) => path), leftAside }
}

test('photos are known by their bytes or by their names, in the order of their names', async () => {
  expect(
    await sorted(
      file('DCIM/101/b', ...JPEG),
      file('DCIM/100/c.JPG'),
      file('DCIM/100/a.webp', 0x52, 0x49, 0x46, 0x46, 0, 0, 0, 0, 0x57, 0x45, 0x42, 0x50),
      file('DCIM/100/b.bin', 0x89, 0x50, 0x4e, 0x47),
    ),
  ).toEqual({ photos: ['DCIM/100/a.webp', 'DCIM/100/b.bin', 'DCIM/100/c.JPG', 'DCIM/101/b'], leftAside: [] })
})

test('clips, logs and lists of settings are left aside by name', async () => {
  expect(
    await sorted(
      file('DCIM/clip.avi', 0x52, 0x49, 0x46, 0x46, 0, 0, 0, 0, 0x41, 0x56, 0x49, 0x20),
      file('log.txt', 0x31),
      file('empty'),
    ),
  ).toEqual({ photos: [], leftAside: ['DCIM/clip.avi', 'empty', 'log.txt'] })
})

test('what lies behind a dot is nobody’s photo', async () => {
  expect(await sorted(file('.Trashes/a.jpg', ...JPEG), file('DCIM/._a.jpg', ...JPEG))).toEqual({
    photos: [],
    leftAside: [],
  })
})

/** File and Directory Entries API (W3C), section 7: a reader gives some at a time, and none at the end. */
function folder(path: string, ...inside: readonly FileSystemEntry[]): FileSystemEntry {
  const pieces = [inside.slice(0, 2), inside.slice(2), []].filter(
    (some, i, all) => some.length > 0 || i === all.length - 1,
  )
  const createReader = () => {
    const rest = [...pieces]
    return { readEntries: (give: (some: readonly FileSystemEntry[]) => void) => give(rest.shift() ?? []) }
  }
  return { isFile: false, isDirectory: true, fullPath: path, createReader } as unknown as FileSystemEntry
}
function entry(path: string): FileSystemEntry {
  const file = (give: (made: unknown) => void) => give({ name: path.split('/').at(-1) })
  return { isFile: true, isDirectory: false, fullPath: path, file } as unknown as FileSystemEntry
}

test('a folder that is dropped is gone through to its last file, folders in it too', async () => {
  const card = folder(
    '/DCIM',
    folder('/DCIM/100', entry('/DCIM/100/a.jpg'), entry('/DCIM/100/b.jpg'), entry('/DCIM/100/c.jpg')),
    folder('/DCIM/empty'),
    entry('/DCIM/d.jpg'),
  )
  const items = [
    { webkitGetAsEntry: () => card },
    { webkitGetAsEntry: () => entry('/e.jpg') },
    { webkitGetAsEntry: () => null },
  ] as unknown as DataTransferItemList
  expect((await droppedFiles(items)).map(({ path }) => path)).toEqual([
    'DCIM/100/a.jpg',
    'DCIM/100/b.jpg',
    'DCIM/100/c.jpg',
    'DCIM/d.jpg',
    'e.jpg',
  ])
})
