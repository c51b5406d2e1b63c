import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { z } from 'zod'
import { projectFolder } from './paths.ts'

/** The project's version, from its package.json. */
export const version = z
  .object({ version: z.string() })
  .parse(JSON.parse(readFileSync(join(projectFolder, 'package.json'), 'utf8'))).version
