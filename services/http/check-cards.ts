/** A night's flagged photos as cards to check: the pure core groups them, this reads and shapes them. */
import { toStationTime } from '../station-time.ts'
import { toInstant } from '../store/instants.ts'
import type { Ledger } from '../store/open.ts'
import type { Settings } from '../store/settings.ts'
import { listStills, type StillView } from '../store/still-views.ts'
import { type CardStill, cardsInOrder, cardsOf } from '../tally/cards.ts'
import type { NightDate } from '../words.ts'
import { stillOf } from './answers.ts'
import type { CheckCard, CheckCardsAnswer, Still } from './shapes.ts'

/** A station of twenty cameras flags some tens a night; this is where a page must end on a bad one. */
const MAX_STILLS_A_NIGHT = 1_000

export async function checkCardsOf(
  ledger: Ledger,
  { night, settings }: { readonly night: NightDate; readonly settings: Settings },
): Promise<CheckCardsAnswer> {
  const views = await listStills(
    ledger,
    { night, flaggedOnly: true, state: 'done' },
    { place: null, limit: MAX_STILLS_A_NIGHT },
  )
  const trusted = views.filter(({ still }) => still.clock_doubt === null)
  const shown = new Map(trusted.map((view) => [view.still.id, stillOf(view, settings)]))
  const points = [...new Set(trusted.map(({ still }) => still.point_id))]
  const cards = points.flatMap((pointId) =>
    cardsOf(
      trusted
        .filter(({ still }) => still.point_id === pointId)
        .map((view) => cardStillOf(view, shown.get(view.still.id)!, settings)),
      settings.visitGapMinutes,
      settings.feral,
    ),
  )
  const answer = cardsInOrder(cards).map((card): CheckCard => {
    const stills = card.stills.map(({ id }) => shown.get(id)!)
    const best = shown.get(card.bestStillId)!
    return {
      key: String(card.key),
      pointId: best.pointId,
      pointName: best.pointName,
      night,
      startedAt: toStationTime(card.startedAt, settings.zone),
      endedAt: toStationTime(card.endedAt, settings.zone),
      why: card.why,
      peaks: card.peaks,
      best,
      stills,
      checked: stills.every((still) => still.check !== null),
    }
  })
  const checked = answer.filter((card) => card.checked).length
  return { night, cards: answer, waiting: answer.length - checked, checked }
}

function cardStillOf({ still }: StillView, shown: Still, settings: Settings): CardStill {
  const feralBoxes = shown.boxes.filter((box) => settings.feral.has(box.species))
  const scores = (feralBoxes.length > 0 ? feralBoxes : shown.boxes).map((box) => box.score)
  return {
    id: still.id,
    at: toInstant(still.taken_at),
    tally: shown.tally,
    feral: feralBoxes.length > 0,
    score: Math.max(0, ...scores),
  }
}
