/** The project's documents, and what they say that can be held against the project. */
import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join, relative } from 'node:path'
import { projectFolder } from '../../../services/paths.ts'

export interface Document {
  /** From the project's folder: `docs/words.md`. */
  readonly name: string
  readonly text: string
}

export interface Said {
  readonly document: string
  readonly what: string
}

const FOLDERS = ['.', 'docs', 'models', 'services/demo/stills']

/** Every Markdown file of the project. */
export function documents(): Document[] {
  return FOLDERS.flatMap((folder) =>
    readdirSync(join(projectFolder, folder))
      .filter((name) => name.endsWith('.md'))
      .map((name) => join(folder, name))
      .map((name) => ({ name, text: readFileSync(join(projectFolder, name), 'utf8') })),
  )
}

/** Those that describe the code; the models' card came with the models. */
export function ownDocuments(): Document[] {
  return documents().filter(({ name }) => !name.startsWith('models'))
}

export function said(document: Document, pattern: RegExp): Said[] {
  return [...document.text.matchAll(pattern)].map((match) => ({
    document: document.name,
    what: match[1] ?? match[0],
  }))
}

export interface Link {
  readonly document: string
  readonly target: string
  /** From the project's folder. */
  readonly file: string
  readonly heading: string | null
}

/** Links to places inside the project, pictures included. */
export function linksOf(document: Document): Link[] {
  return said(document, /\]\(([^)\s]+)\)/g)
    .filter(({ what }) => !/^[a-z]+:/.test(what))
    .map(({ what }) => {
      const [path = '', heading] = what.split('#')
      const file = path === '' ? document.name : relative('.', join(dirname(document.name), path))
      return { document: document.name, target: what, file, heading: heading ?? null }
    })
}

/** The anchors of a Markdown text's headings, as code hosts make them: lower case, words with hyphens, no other signs. */
export function anchorsOf(text: string): string[] {
  return [...text.matchAll(/^#+ (.+)$/gm)].map((match) =>
    (match[1] ?? '')
      .toLowerCase()
      .replace(/[^\p{L}\p{N}\s-]/gu, '')
      .trim()
      .replace(/\s/g, '-'),
  )
}
