/** How a service logs: sentences for the person at a terminal, one JSON object a line where it runs unattended. */
import pino from 'pino'
import { z } from 'zod'
import { LOG_LEVELS, type Log, type LogLevel, logTo } from '../log.ts'
import { Refusal } from '../refusal.ts'

export interface LogStyle {
  readonly kind: 'sentences' | 'json'
  /** What is less is left out. */
  readonly level: LogLevel
}

const kindDoor = z.enum(['json', 'sentences'], { error: 'json or sentences' }).optional()
const levelDoor = z.enum(LOG_LEVELS, { error: `one of ${LOG_LEVELS.join(', ')}` }).default('info')

/**
 * HOOFTALLY_LOG is `json` or `sentences`; without it a terminal gets sentences and everything else JSON, unless
 * `forPeople`. HOOFTALLY_LOG_LEVEL is the least level that is said.
 * @throws Refusal for anything else in them.
 */
export function readLogStyle(
  environment: NodeJS.ProcessEnv,
  { isTerminal, forPeople = false }: { readonly isTerminal: boolean; readonly forPeople?: boolean },
): LogStyle {
  const given = read('HOOFTALLY_LOG', kindDoor, environment)
  return {
    kind: given ?? (isTerminal || forPeople ? 'sentences' : 'json'),
    level: read('HOOFTALLY_LOG_LEVEL', levelDoor, environment),
  }
}

/** Whatever takes lines: standard output of a service. */
export interface LineTaker {
  write(text: string): unknown
}

export function openLog({ kind, level }: LogStyle, out: LineTaker): Log {
  const isSaid = (one: LogLevel) => LOG_LEVELS.indexOf(one) >= LOG_LEVELS.indexOf(level)
  if (kind === 'sentences') {
    return logTo((one, line) => {
      if (isSaid(one)) out.write(`${line}\n`)
    })
  }
  const json = pino(
    {
      level,
      // Who runs where is known to whoever collects; a machine's name is no business of a log that is sent on.
      base: null,
      messageKey: 'message',
      nestedKey: 'fields',
      timestamp: pino.stdTimeFunctions.isoTime,
      formatters: { level: (label) => ({ level: label }) },
    },
    { write: (text: string) => void out.write(text) },
  )
  return logTo((one, line, fields) =>
    Object.keys(fields).length === 0 ? json[one](line) : json[one](fields, line),
  )
}

/** The log of a service that was started with this environment and writes to standard output. */
export function serviceLog({ forPeople = false }: { readonly forPeople?: boolean } = {}): Log {
  const style = readLogStyle(process.env, { isTerminal: process.stdout.isTTY === true, forPeople })
  return openLog(style, process.stdout)
}

function read<Door extends z.ZodType>(
  name: string,
  door: Door,
  environment: NodeJS.ProcessEnv,
): z.output<Door> {
  const result = door.safeParse(environment[name])
  if (result.success) return result.data
  throw new Refusal({
    kind: 'bad input',
    detail: `${name}: expected ${result.error.issues[0]!.message}, got "${environment[name]}".`,
    field: name,
    remedy: `Set ${name} to one of these, or leave it out.`,
  })
}
