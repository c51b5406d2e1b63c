/** Pieces of the questions that go over photos with a person's count, and over their boxes. */
import { type RawBuilder, sql } from 'kysely'

/** Joined to a table of stills: the last check as `c`, of those of which a word stands on the count. */
export function joinStandingCount(still: RawBuilder<unknown>): RawBuilder<unknown> {
  return sql`join lateral (select * from checks where still_id = ${still} order by id desc limit 1) c
    on c.verdict <> 'withdrawn' and c.counts is not null`
}

/** A still's boxes as `LabelledBox` (learning/labels.ts), in the order of their ids; null where there are none. */
export function labelledBoxesOf(still: RawBuilder<unknown>): RawBuilder<unknown> {
  return sql`(select json_agg(json_build_object('id', d.id, 'species', d.species, 'score', d.score, 'ownKind', d.own_kind,
    'box', json_build_array(d.x0, d.y0, d.x1, d.y1)) order by d.id) from detections d where d.still_id = ${still})`
}
