/** How options of a command line are read: each parsed once, and what is wrong said with its name and what to do. */
import { type ParseArgsConfig, parseArgs } from 'node:util'
import { z } from 'zod'
import { Refusal } from '../refusal.ts'
import { readHostRules } from '../sources/reach.ts'

export type OptionsConfig = NonNullable<ParseArgsConfig['options']>

export const wholeNumber = (least: number, most: number) =>
  z
    .string()
    .regex(/^\d+$/, { error: 'not a whole number' })
    .transform(Number)
    .pipe(z.number().min(least).max(most))

export const positive = z
  .string()
  .regex(/^\d+(\.\d+)?$/, { error: 'not a number' })
  .transform(Number)
  .pipe(z.number().positive({ error: 'not more than 0' }))

/** What may be asked for photos (sources/reach.ts). */
export const hostRule = z.string().refine((text) => !('wrong' in readHostRules([text])), {
  error: 'not a host, an address or a network such as 192.168.1.0/24',
})
export const httpAddress = z.url({ protocol: /^https?$/, error: 'not an address like http://10.0.0.5:8470' })

export function parseOptions<Options extends OptionsConfig>(args: readonly string[], options: Options) {
  try {
    return parseArgs({ args: [...args], options, allowPositionals: true })
  } catch (fault) {
    const detail = fault instanceof Error ? fault.message : String(fault)
    throw new Refusal({
      kind: 'bad input',
      detail: detail.split('. ')[0] ?? detail,
      remedy: 'Run the command with --help to see its options.',
    })
  }
}

export function readOptions<Door extends z.ZodType>(door: Door, values: unknown): z.output<Door> {
  const result = door.safeParse(values)
  if (result.success) return result.data
  const issue = result.error.issues[0]!
  const missing = issue.code === 'invalid_type' && issue.input === undefined
  throw badOption(`--${String(issue.path[0])}`, missing ? 'is missing' : issue.message)
}

export function badOption(field: string, what: string): Refusal {
  return new Refusal({
    kind: 'bad input',
    detail: `${field}: ${what}.`,
    field,
    remedy: `Give ${field} a fitting value, or leave it out for the usual one; --help says what it takes.`,
  })
}

export function onePath(positionals: readonly string[], what: string, usage: string): string {
  const [path] = positionals
  if (path !== undefined && positionals.length === 1) return path
  throw new Refusal({
    kind: 'bad input',
    detail: `Expected one ${what}, got ${positionals.length}.`,
    field: what,
    remedy: `Write it as: ${usage}`,
  })
}
