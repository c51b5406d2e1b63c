/** From a job and what was said of it to the API's shape. */
import type { JobView } from '../store/jobs.ts'
import type { Zone } from '../words.ts'
import { smallUrl, stationTime } from './answers.ts'
import type { Job } from './yard-shapes.ts'

export function jobOf(view: JobView, zone: Zone): Job {
  const words = view.words.map((said) => ({
    word: said.word,
    who: said.who,
    at: stationTime(said.at, zone),
    person: said.person,
    note: said.note,
  }))
  const asked = words[0]
  const ended = view.open ? undefined : words.findLast(({ word }) => word === 'done' || word === 'not needed')
  return {
    id: view.id,
    pointId: view.point_id,
    pointName: view.point_name,
    photo:
      view.still_id === null || view.taken_at === null
        ? null
        : {
            stillId: view.still_id,
            takenAt: stationTime(view.taken_at, zone),
            smallUrl: smallUrl(view.still_id),
          },
    trouble: view.trouble,
    open: view.open,
    person: words.findLast(({ person }) => person !== null)?.person ?? null,
    note: asked?.note ?? null,
    askedBy: asked?.who ?? '',
    askedAt: stationTime(view.made_at, zone),
    ended: ended === undefined ? null : { word: ended.word, who: ended.who, at: ended.at },
    words,
  }
}
