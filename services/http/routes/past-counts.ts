/** Counts from notebooks: a file in, what stands, and how it compares with what cameras count. */
import { createHash } from 'node:crypto'
import express, { Router } from 'express'
import type { House } from '../../house.ts'
import { Refusal } from '../../refusal.ts'
import {
  addPastCounts,
  listPastCountFiles,
  type PastCountFileView,
  readPastCounts,
  withdrawPastCounts,
} from '../../store/past-counts.ts'
import { findPoint, listPoints } from '../../store/points.ts'
import { readSettings } from '../../store/settings.ts'
import { nightOf } from '../../tally/nights.ts'
import type { Zone } from '../../words.ts'
import { stationTime } from '../answers.ts'
import { parse, parseId } from '../parse.ts'
import { pastCountsComparedQuery, pastCountsFileQuery, pastCountsWithdrawQuery } from '../past-count-doors.ts'
import type { PastCountFile } from '../past-count-shapes.ts'
import { pastCountsCompared } from '../past-counts-compared.ts'
import { readPastCountsFile } from '../past-counts-file.ts'

const MAX_FILE = '4mb'

export function pastCountRoutes(house: House): Router {
  const router = Router()
  const { ledger } = house

  const filesNow = async () => {
    const { zone } = await readSettings(ledger)
    return (await listPastCountFiles(ledger)).map((file) => fileOf(file, zone))
  }

  router.get('/past-counts', async (_request, response) => {
    response.json({ files: await filesNow() })
  })

  router.post(
    '/past-counts',
    express.text({ type: ['text/csv', 'text/plain'], limit: MAX_FILE }),
    async (request, response) => {
      const { name, who } = parse(pastCountsFileQuery, request.query)
      const { zone } = await readSettings(ledger)
      const text: unknown = request.body
      if (typeof text !== 'string') {
        throw new Refusal({
          kind: 'bad input',
          detail: 'Counts from a notebook come as text/csv.',
          field: 'Content-Type',
          remedy: 'Set Content-Type to text/csv, or save the table as CSV first.',
        })
      }
      const at = house.now()
      const counts = readPastCountsFile(text, {
        points: await listPoints(ledger),
        lastNight: nightOf(at, zone),
      })
      const sha256 = createHash('sha256').update(text).digest()
      const { file, known } = await addPastCounts(ledger, { name, sha256, who, at, counts })
      const shown = (await filesNow()).find(({ id }) => id === file.id)
      response.status(known ? 200 : 201).json({ file: shown, known })
    },
  )

  router.delete('/past-counts/:id', async (request, response) => {
    const { who } = parse(pastCountsWithdrawQuery, request.query)
    await withdrawPastCounts(ledger, parseId(request.params.id), { who, at: house.now() })
    response.json({ files: await filesNow() })
  })

  router.get('/past-counts/compared', async (request, response) => {
    const { week } = parse(pastCountsComparedQuery, request.query)
    response.json(await pastCountsCompared(ledger, { week, now: house.now() }))
  })

  router.get('/points/:id/past-counts', async (request, response) => {
    const point = await findPoint(ledger, parseId(request.params.id))
    const { roles } = await readSettings(ledger)
    const rows = await readPastCounts(ledger, { pointId: point.id })
    response.json({
      counts: rows.map(({ night, species, head, visits, watched, note, file_name }) => {
        return { night, species, role: roles[species], head, visits, watched, note, file: file_name }
      }),
    })
  })

  return router
}

function fileOf(row: PastCountFileView, zone: Zone): PastCountFile {
  return {
    id: row.id,
    name: row.name,
    who: row.who,
    at: stationTime(row.at, zone),
    counts: row.counts,
    points: row.points,
    firstNight: row.first_night,
    lastNight: row.last_night,
    withdrawnAt: row.withdrawn_at && stationTime(row.withdrawn_at, zone),
    withdrawnBy: row.withdrawn_by,
  }
}
