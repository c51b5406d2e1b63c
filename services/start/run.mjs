/** Runs the tools that install, build and test: straight through node, without npx. */
import { spawn } from 'node:child_process'
import { existsSync, readFileSync } from 'node:fs'
import { constants } from 'node:os'
import { basename, dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

export const projectFolder = dirname(dirname(dirname(fileURLToPath(import.meta.url))))

/**
 * Runs a program of an installed package and gives its exit code (128 and the signal's number if a signal ended it).
 * `output`: the file descriptor that takes all it says, 1 or 2.
 */
export function runTool({ name, tool = name, args, output }) {
  const folder = join(projectFolder, 'node_modules', name)
  const { bin } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'))
  return runNode([join(folder, typeof bin === 'string' ? bin : bin[tool]), ...args], output)
}

/** Runs npm: the one that started us, else the one beside this node, else whichever is found. */
export function runNpm(args, output) {
  const ours = process.env.npm_execpath
  const besideNode = join(dirname(process.execPath), '..', 'lib', 'node_modules', 'npm', 'bin', 'npm-cli.js')
  if (ours !== undefined && basename(ours) === 'npm-cli.js') return runNode([ours, ...args], output)
  if (existsSync(besideNode)) return runNode([besideNode, ...args], output)
  return runProgram({ program: 'npm', args, output, shell: process.platform === 'win32' })
}

function runNode(args, output) {
  return runProgram({ program: process.execPath, args, output, shell: false })
}

function runProgram({ program, args, output, shell }) {
  return new Promise((resolve, reject) => {
    const child = spawn(program, args, {
      cwd: projectFolder,
      stdio: ['ignore', output, output],
      shell,
      // onnxruntime-node would else fetch GPU libraries that nothing here uses.
      env: { ...process.env, ONNXRUNTIME_NODE_INSTALL: 'skip' },
    })
    // Ctrl-C in a terminal reaches the child by itself; it ends, and then so do we.
    const onInterrupt = () => process.stdin.isTTY || child.kill('SIGINT')
    const onTerminate = () => child.kill('SIGTERM')
    process.on('SIGINT', onInterrupt).on('SIGTERM', onTerminate)
    const done = () => process.off('SIGINT', onInterrupt).off('SIGTERM', onTerminate)
    child.once('error', (error) => {
      done()
      reject(error)
    })
    child.once('exit', (code, signal) => {
      done()
      resolve(code ?? 128 + constants.signals[signal])
    })
  })
}

/** Tells the person at the terminal; stdout belongs to the command. */
export function say(line) {
  process.stderr.write(`${line}\n`)
}

/** Ends the process after a failed step, with the step's exit code. */
export function giveUp(line, code) {
  say(line)
  process.exit(code)
}
