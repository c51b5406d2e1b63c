/** Where the project's own folders are, found from this file whether it runs from source or from the build. */
import { existsSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

function findRoot(): string {
  let folder = dirname(fileURLToPath(import.meta.url))
  while (!existsSync(join(folder, 'package-lock.json'))) {
    const parent = dirname(folder)
    if (parent === folder)
      throw new Error('the project folder (the one with package-lock.json) was not found')
    folder = parent
  }
  return folder
}

export const projectFolder = findRoot()
export const modelsFolder = join(projectFolder, 'models')
export const demoStillsFolder = join(projectFolder, 'services', 'demo', 'stills')
/** The built view, served as static files. */
export const viewFolder = join(projectFolder, 'dist', 'view')

/** A built JavaScript file, `worker/main.js` say: child processes always run the build, Node 20 cannot run TypeScript. */
export function builtFile(path: string): string {
  return join(projectFolder, 'dist', path)
}
