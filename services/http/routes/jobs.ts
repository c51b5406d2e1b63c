/** Jobs: trips that a photo or a point asks for, until somebody has done them. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import { askForJob, jobView, listJobs, sayOfJob } from '../../store/jobs.ts'
import { readSettings } from '../../store/settings.ts'
import { jobOf } from '../job-answers.ts'
import { jobDoor, jobIdDoor, jobsQuery, jobWordDoor } from '../job-doors.ts'
import { parse, parseBody } from '../parse.ts'

export function jobRoutes(house: House): Router {
  const router = Router()
  const answerJob = async (id: string) => {
    const { zone } = await readSettings(house.ledger)
    return { job: jobOf(await jobView(house.ledger, id), zone) }
  }

  router.get('/jobs', async (request, response) => {
    const { which, still, limit } = parse(jobsQuery, request.query)
    const { zone } = await readSettings(house.ledger)
    const asked = still === undefined ? which : { stillId: still }
    const jobs = await listJobs(house.ledger, { which: asked, limit })
    response.json({ jobs: jobs.map((view) => jobOf(view, zone)) })
  })

  router.post('/jobs', async (request, response) => {
    const job = parseBody(jobDoor, request)
    await askForJob(
      house.ledger,
      {
        ...job,
        stillId: job.stillId ?? null,
        pointId: job.pointId ?? null,
        person: job.person ?? null,
        note: job.note ?? null,
      },
      house.now(),
    )
    response.status(201).json(await answerJob(job.id))
  })

  router.post('/jobs/:id/words', async (request, response) => {
    const jobId = parse(jobIdDoor, request.params.id, 'id')
    const { person = null, note = null, ...word } = parseBody(jobWordDoor, request)
    await sayOfJob(house.ledger, { ...word, jobId, person, note }, house.now())
    response.status(201).json(await answerJob(jobId))
  })

  return router
}
