/** Are the packages of package-lock.json installed? If not, install them. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { giveUp, projectFolder, runNpm, say } from './run.mjs'

/** npm writes its own list of what it installed when it is done: an install cut short has none. */
export function isInstalled() {
  const wanted = packagesIn('package-lock.json')
  const installed = packagesIn(join('node_modules', '.package-lock.json'))
  if (installed === null) return false
  if (wanted === null) return true
  const isMet = ([path, { version, optional, devOptional }]) =>
    path === '' || optional || devOptional || installed[path]?.version === version
  const belongs = ([path, { version }]) => wanted[path]?.version === version
  return Object.entries(wanted).every(isMet) && Object.entries(installed).every(belongs)
}

export async function ensureInstalled() {
  if (isInstalled()) return
  say('Installing packages (npm ci); this takes a minute or so.')
  const code = await runNpm(['ci', '--include=dev', '--include=optional'], 2)
  if (code !== 0)
    giveUp('The packages could not be installed. Is there a network, and may npm write here?', code)
}

function packagesIn(file) {
  try {
    return JSON.parse(readFileSync(join(projectFolder, file), 'utf8')).packages
  } catch (error) {
    if (error.code === 'ENOENT' || error instanceof SyntaxError) return null
    throw error
  }
}
