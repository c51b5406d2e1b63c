/** Documents that say what is not so send people the wrong way: what they name must be there. */
import { execFileSync } from 'node:child_process'
import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it, vi } from 'vitest'
import { z } from 'zod'
import { runDemo } from '../../../services/cli/demo.ts'
import { projectFolder } from '../../../services/paths.ts'
import { anchorsOf, documents, linksOf, ownDocuments, said } from './documents.ts'

const packageShape = z.object({
  scripts: z.record(z.string(), z.string()),
  dependencies: z.record(z.string(), z.string()),
  devDependencies: z.record(z.string(), z.string()),
})
const pkg = packageShape.parse(JSON.parse(read('package.json')))

function read(name: string): string {
  return readFileSync(join(projectFolder, name), 'utf8')
}

it('every link to a file leads to one that is there', () => {
  const links = documents().flatMap(linksOf)
  expect(links.length).toBeGreaterThan(20)
  expect(links.filter(({ file }) => !existsSync(join(projectFolder, file)))).toEqual([])
})

it('every link to a heading leads to one that is there', () => {
  const links = documents()
    .flatMap(linksOf)
    .filter(({ file }) => file.endsWith('.md') && existsSync(join(projectFolder, file)))
    .filter(({ heading }) => heading !== null)
  expect(links.length).toBeGreaterThan(0)
  expect(links.filter(({ file, heading }) => !anchorsOf(read(file)).includes(heading ?? ''))).toEqual([])
})

it('every npm script that a document names is in package.json', () => {
  const named = ownDocuments().flatMap((document) => said(document, /npm run ([\w:-]+)/g))
  expect(named.length).toBeGreaterThan(0)
  expect(named.filter(({ what }) => !Object.hasOwn(pkg.scripts, what))).toEqual([])
})

it('every command that a document gives to hooftally is one', () => {
  const usage = execFileSync(process.execPath, [join(projectFolder, 'services', 'start.mjs'), '--help'])
  const commands = [...usage.toString().matchAll(/^ {2}([\w-]+) /gm)].map((match) => match[1])
  const named = ownDocuments().flatMap((document) => said(document, /npm run hooftally -- ([a-z][a-z-]*)/g))
  expect(named.length).toBeGreaterThan(0)
  expect(named.filter(({ what }) => !commands.includes(what))).toEqual([])
})

it('the README lists the options of the demo, each of them and no other', async () => {
  const printed: string[] = []
  const out = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    printed.push(String(text))
    return true
  })
  await runDemo(['--help']).finally(() => out.mockRestore())
  const options = [...printed.join('').matchAll(/^ {2}(--\w+)/gm)].map((match) => match[1])
  const listed = [...read('README.md').matchAll(/^\| `(--\w+)/gm)].map((match) => match[1])
  expect(listed.length).toBeGreaterThan(0)
  expect(listed.toSorted()).toEqual(options.toSorted())
})

it('docs/dependencies.md has one line for each package asked for, and for no other', () => {
  const listed = [...read('docs/dependencies.md').matchAll(/^\| `([^`]+)` \|/gm)].map((match) => match[1])
  const asked = Object.keys({ ...pkg.dependencies, ...pkg.devDependencies })
  expect(listed.toSorted()).toEqual(asked.toSorted())
})

it('every file of the project that a document names in code is there', () => {
  const named = ownDocuments().flatMap((document) =>
    said(document, /`((?:services|worker|web|tests|models|docs)\/[\w./-]*)`/g),
  )
  expect(named.length).toBeGreaterThan(20)
  expect(named.filter(({ what }) => !existsSync(join(projectFolder, what)))).toEqual([])
})

it('no document names a folder of somebody’s machine or a package registry', () => {
  const named = [...documents(), { name: 'NOTICE', text: read('NOTICE') }].flatMap((document) => [
    ...said(document, /(?<![\w.])\/(?:work|tmp|root|home|Users)\/\S*/g),
    ...said(document, /https?:\/\/[^\s)]*(?:registry|npmjs|mirror|artifact)[^\s)]*/gi),
  ])
  expect(named).toEqual([])
})
