/**
 * `services/start.mjs` in a small project of its own, where npm, the compiler, the linter and the test runner are
 * stand-ins that write down in `calls` when they were run.
 */
import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { appendFile, cp, mkdir, mkdtemp, readFile, rm, stat, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { text } from 'node:stream/consumers'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { projectFolder } from '../../services/paths.ts'

const LOCK = { packages: { '': {}, 'node_modules/typescript': { version: '7.0.2' } } }
const COMMAND = `
if (process.argv.includes('wait')) {
  process.on('SIGTERM', () => { console.log('stopped well'); process.exit(7) })
  setInterval(() => {}, 1000)
}
console.log(JSON.stringify(process.argv.slice(2)))`
const NOTE = `
import { appendFileSync, writeFileSync, mkdirSync, existsSync, copyFileSync } from 'node:fs'
const note = (what) => appendFileSync('calls', what + '\\n')
const fail = (name) => { if (existsSync('fail-' + name)) process.exit(9) }`

let project: string

beforeEach(async () => {
  project = await mkdtemp(join(tmpdir(), 'hooftally-start-'))
  for (const path of ['services/start.mjs', 'services/start'])
    await cp(join(projectFolder, path), join(project, path), { recursive: true })
  await write('package.json', '{"type":"module"}')
  await write('package-lock.json', JSON.stringify(LOCK))
  await write('services/command.js', COMMAND)
  await write('calls', '')
  // `npm ci` brings the stand-ins, and npm's own list of what it installed comes last.
  await write(
    'outside/npm-cli.js',
    `${NOTE}
    note('npm ' + process.argv[2] + ' ' + process.env.ONNXRUNTIME_NODE_INSTALL)
    console.log('npm talks')
    for (const [name, code] of Object.entries(${JSON.stringify(TOOLS)})) {
      mkdirSync('node_modules/' + name, { recursive: true })
      writeFileSync('node_modules/' + name + '/package.json', '{"type":"module","bin":"bin.js"}')
      writeFileSync('node_modules/' + name + '/bin.js', code)
    }
    copyFileSync('package-lock.json', 'node_modules/.package-lock.json')`,
  )
})

const TOOLS = {
  typescript: `${NOTE}
    note('compile')
    console.log('compiler talks')
    await new Promise((resolve) => setTimeout(resolve, 300))
    fail('compile')
    mkdirSync('dist/services', { recursive: true })
    writeFileSync('dist/package.json', '{"type":"module"}')
    copyFileSync('services/command.js', 'dist/services/main.js')
    note('compiled')`,
  '@biomejs/biome': `${NOTE}\nnote('lint'); fail('lint')`,
  vitest: `${NOTE}\nnote('test'); console.log('3 passed, 0 failed, 0 skipped'); fail('test')`,
}

afterEach(async () => {
  await rm(project, { recursive: true, force: true })
})

async function write(path: string, content: string): Promise<void> {
  await mkdir(dirname(join(project, path)), { recursive: true })
  await writeFile(join(project, path), content)
}

async function calls(): Promise<string[]> {
  return (await readFile(join(project, 'calls'), 'utf8')).trim().split('\n')
}

function launch(...args: readonly string[]): ChildProcess {
  const npm_execpath = join(project, 'outside', 'npm-cli.js')
  return spawn(process.execPath, [join(project, 'services', 'start.mjs'), ...args], {
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...process.env, npm_execpath },
  })
}

interface Ended {
  readonly code: number
  readonly out: string
  readonly err: string
}

async function ended(child: ChildProcess): Promise<Ended> {
  if (child.stdout === null || child.stderr === null) throw new Error('no pipes')
  const [out, err, [code]] = await Promise.all([text(child.stdout), text(child.stderr), once(child, 'exit')])
  return { code, out, err }
}

const start = (...args: readonly string[]) => ended(launch(...args))

const INSTALL = 'npm ci skip'
const BUILD = ['compile', 'compiled']

it('says how it is used, and that an unknown command is a mistake', async () => {
  expect(await start()).toMatchObject({ code: 0, out: expect.stringContaining('Usage: hooftally COMMAND') })
  expect(await start('--help')).toMatchObject({ code: 0, out: expect.stringContaining('verify') })
  const unknown = await start('constructor')
  expect(unknown).toMatchObject({
    code: 2,
    out: '',
    err: expect.stringContaining('no command "constructor"'),
  })
  expect(await calls()).toEqual([''])
})

it('installs, builds, then runs the command, whose output alone goes to stdout', async () => {
  const { code, out, err } = await start('look', 'a photo.jpg', '--flag')
  expect({ code, out }).toEqual({ code: 0, out: '["look","a photo.jpg","--flag"]\n' })
  expect(err).toContain('npm talks')
  expect(err).toContain('compiler talks')
  expect(await calls()).toEqual([INSTALL, ...BUILD])
})

it('does neither again while nothing has changed', async () => {
  await start('look')
  const again = await start('look')
  expect(again).toEqual({ code: 0, out: '["look"]\n', err: '' })
  expect(await calls()).toEqual([INSTALL, ...BUILD])
})

it('builds again after a source has changed', async () => {
  await start('look')
  await appendFile(join(project, 'services', 'command.js'), '\nconsole.log("changed")')
  expect((await start('look')).out).toContain('changed')
  expect(await calls()).toEqual([INSTALL, ...BUILD, ...BUILD])
})

it('installs again when package-lock.json wants another version, or an install was cut short', async () => {
  await start('look')
  const newer = { packages: { ...LOCK.packages, 'node_modules/typescript': { version: '7.0.3' } } }
  await write('package-lock.json', JSON.stringify(newer))
  await start('look')
  await rm(join(project, 'node_modules', '.package-lock.json'))
  await start('look')
  expect((await calls()).filter((call) => call === INSTALL)).toHaveLength(3)
})

it('takes packages that npm installed by itself as they are', async () => {
  await start('look')
  await rm(join(project, 'dist'), { recursive: true })
  await start('look')
  expect((await calls()).filter((call) => call === INSTALL)).toHaveLength(1)
})

it('does not run a command whose build failed, and builds again next time', async () => {
  await write('fail-compile', '')
  expect(await start('look')).toMatchObject({ code: 9, out: '' })
  await rm(join(project, 'fail-compile'))
  expect(await start('look')).toMatchObject({ code: 0, out: '["look"]\n' })
})

it('lets starts at once build one after the other, and the later ones find it done', async () => {
  const all = await Promise.all([start('look'), start('look'), start('look')])
  expect(all.map(({ code }) => code)).toEqual([0, 0, 0])
  expect(await calls()).toEqual([INSTALL, ...BUILD])
})

it('does not wait for a start that was killed while it built', async () => {
  const killed = launch('look')
  while (!(await calls()).includes('compile')) await new Promise((resolve) => setTimeout(resolve, 10))
  killed.kill('SIGKILL')
  await once(killed, 'exit')
  expect(await stat(join(project, 'dist', '.turn'))).toBeDefined()
  expect(await start('look')).toMatchObject({ code: 0, out: '["look"]\n' })
})

it('is the command: a signal to it is the command’s, and so is its exit code', async () => {
  const child = launch('serve', 'wait')
  child.stdout?.once('data', () => child.kill('SIGTERM'))
  expect(await ended(child)).toMatchObject({ code: 7, out: '["serve","wait"]\nstopped well\n' })
})

it('verify runs every step in order and ends with the closing line of the tests', async () => {
  const { code, out } = await start('verify')
  expect(code).toBe(0)
  expect(await calls()).toEqual([INSTALL, ...BUILD, 'lint', 'test'])
  expect(out.trimEnd().split('\n').at(-1)).toBe('3 passed, 0 failed, 0 skipped')
})

it('verify stops at the first step that fails, with its exit code', async () => {
  await write('fail-lint', '')
  const lint = await start('verify')
  expect(lint.code).toBe(9)
  expect(lint.out).toContain('Lint and format: failed')
  expect(await calls()).not.toContain('test')
  await rm(join(project, 'fail-lint'))
  await write('fail-test', '')
  const test = await start('verify')
  expect(test.code).toBe(9)
  expect(test.out.trimEnd().split('\n').at(-1)).toBe('3 passed, 0 failed, 0 skipped')
})
