/** A night's flagged photos as cards to check: the pure core groups them, this reads and shapes the first of them. */
import { toStationTime } from '../station-time.ts'
import { type FlaggedStill, listFlagged } from '../store/flagged-stills.ts'
import { toInstant } from '../store/instants.ts'
import type { Ledger } from '../store/open.ts'
import type { Settings } from '../store/settings.ts'
import { findStills, type StillView } from '../store/still-views.ts'
import { type Card, type CardStill, cardsInOrder, cardsOf } from '../tally/cards.ts'
import type { NightDate } from '../words.ts'
import { stillOf } from './answers.ts'
import type { CheckCard, CheckCardsAnswer, Still } from './shapes.ts'

/** Two hundred busy points flag some thousand a night; this is where a night must end on a very bad one. */
const MAX_STILLS_A_NIGHT = 10_000

type LightCard = Card<CardStill & FlaggedStill>

/** The first `limit` cards of a night, and how many wait and are checked in all of it. */
export async function checkCardsOf(
  ledger: Ledger,
  {
    night,
    limit,
    settings,
  }: { readonly night: NightDate; readonly limit: number; readonly settings: Settings },
): Promise<CheckCardsAnswer> {
  const flagged = await listFlagged(ledger, { night, limit: MAX_STILLS_A_NIGHT })
  const cards = lightCards(flagged, settings)
  const shown = cards.slice(0, limit)
  const views = await findStills(
    ledger,
    shown.flatMap(({ stills }) => stills.map(({ id }) => id)),
  )
  const byId = new Map(views.map((view) => [view.still.id, view]))
  const checked = cards.filter(isChecked).length
  return {
    night,
    cards: shown.flatMap((card) => {
      const ofCard = card.stills.flatMap(({ id }) => byId.get(id) ?? [])
      return ofCard.length === 0 ? [] : [wholeCard(ofCard, night, settings)]
    }),
    waiting: cards.length - checked,
    checked,
  }
}

/** Every card of the night in the order they are worked through, without what is on their photos. */
function lightCards(flagged: readonly FlaggedStill[], settings: Settings): LightCard[] {
  const byPoint = new Map<number, (CardStill & FlaggedStill)[]>()
  for (const still of flagged) {
    const light = { ...still, tally: {}, score: 0 }
    const others = byPoint.get(still.pointId)
    if (others === undefined) byPoint.set(still.pointId, [light])
    else others.push(light)
  }
  return cardsInOrder(
    [...byPoint.values()].flatMap((stills) => cardsOf(stills, settings.visitGapMinutes, settings.feral)),
  )
}

const isChecked = ({ stills }: LightCard) => stills.every((still) => still.checked)

function wholeCard(views: readonly StillView[], night: NightDate, settings: Settings): CheckCard {
  const shown = new Map(views.map((view) => [view.still.id, stillOf(view, settings)]))
  const [card] = cardsOf(
    views.map((view) => cardStillOf(view, shown.get(view.still.id)!, settings)),
    Number.POSITIVE_INFINITY,
    settings.feral,
  )
  const { key, why, peaks, bestStillId, startedAt, endedAt, stills } = card!
  const best = shown.get(bestStillId)!
  const onCard = stills.map(({ id }) => shown.get(id)!)
  return {
    key: String(key),
    pointId: best.pointId,
    pointName: best.pointName,
    night,
    startedAt: toStationTime(startedAt, settings.zone),
    endedAt: toStationTime(endedAt, settings.zone),
    why,
    peaks,
    best,
    stills: onCard,
    checked: onCard.every((still) => still.check !== null),
  }
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
