#!/usr/bin/env node
/**
 * The one way in: `node services/start.mjs COMMAND ...`. Installs and builds what is missing or out of date, then
 * runs the command in this same process, so that signals and exit codes are its own. Plain JavaScript without
 * dependencies, because it runs before anything is installed.
 */
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { ensureBuilt, isBuilt } from './start/build.mjs'
import { ensureInstalled, isInstalled } from './start/install.mjs'
import { projectFolder } from './start/run.mjs'
import { takeTurn } from './start/turn.mjs'
import { verify } from './start/verify.mjs'

const NEEDED_NODE = [20, 18]

const COMMANDS = {
  demo: 'the demo station with its recent past, in a browser',
  serve: 'the service for your own station (also: npm start)',
  worker: 'looks at photos for a station elsewhere: worker --api URL --key KEY',
  import: 'takes in a folder of photos: import FOLDER --camera NAME',
  points: 'takes in a file of points: points FILE',
  report: 'the week’s grazing pressure: report --week 2026-W46 --format csv',
  retention: 'lets empty photos go, or says what that would free: retention --dry-run',
  backup: 'database and photos in one file: backup FILE',
  restore: 'puts a backup back: restore FILE',
  'training-set': 'checked photos with their boxes, to train models on: training-set FOLDER',
  size: 'workers and disk for a set-up: size --cameras N ...',
  look: 'what the models see in photos: look FILE-OR-FOLDER...',
  bench: 'how fast the models run here',
  faults: 'kills a station at random while photos come in, and counts what is left',
  build: 'installs and builds, and runs nothing',
  verify: 'type-checks, lints, builds and runs every test',
}

const USAGE = `Usage: hooftally COMMAND [OPTIONS]   (or: node services/start.mjs COMMAND [OPTIONS])

${Object.entries(COMMANDS)
  .map(([name, what]) => `  ${name.padEnd(12)} ${what}`)
  .join('\n')}

With --help, each of them but bench, faults, build and verify says more.
`

function refuseOldNode() {
  const [major, minor] = process.versions.node.split('.').map(Number)
  if (major > NEEDED_NODE[0] || (major === NEEDED_NODE[0] && minor >= NEEDED_NODE[1])) return
  process.stderr.write(
    `Hooftally needs Node.js ${NEEDED_NODE.join('.')} or newer, and this is ${process.versions.node}. Install a newer one from your system or from nodejs.org.\n`,
  )
  process.exit(1)
}

async function makeReady() {
  if (isInstalled() && isBuilt()) return
  const endTurn = await takeTurn()
  try {
    await ensureInstalled()
    await ensureBuilt()
  } finally {
    endTurn()
  }
}

async function runBuilt(file, args) {
  const path = join(projectFolder, 'dist', file)
  process.argv = [process.execPath, path, ...args]
  await import(pathToFileURL(path).href)
}

refuseOldNode()
const [command, ...args] = process.argv.slice(2)
if (command === undefined || command === '--help' || command === '-h' || command === 'help') {
  process.stdout.write(USAGE)
} else if (!Object.hasOwn(COMMANDS, command)) {
  process.stderr.write(`There is no command "${command}".\n\n${USAGE}`)
  process.exitCode = 2
} else {
  // npm runs scripts in the project's folder; a path on the command line means the caller's.
  const { npm_lifecycle_event: script, INIT_CWD: callersFolder } = process.env
  const scripts = [command, 'hooftally', ...(command === 'serve' ? ['start'] : [])]
  if (scripts.includes(script) && callersFolder !== undefined) process.chdir(callersFolder)
  if (command === 'verify') {
    process.exitCode = await verify(args)
  } else {
    await makeReady()
    if (command === 'bench') await runBuilt('tests/bench/main.js', args)
    else if (command === 'faults') await runBuilt('tests/faults/main.js', args)
    else if (command !== 'build') await runBuilt('services/main.js', [command, ...args])
  }
}
