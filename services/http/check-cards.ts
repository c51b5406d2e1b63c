/** A night's photos as cards to check: the pure core groups them, this reads and shapes the first of them. */
import { wouldTeach } from '../learning/teaches-most.ts'
import { toStationTime } from '../station-time.ts'
import { type FlaggedStill, listFlagged } from '../store/flagged-stills.ts'
import { toInstant } from '../store/instants.ts'
import { listNamedBoxes, type NamedBox } from '../store/named-boxes.ts'
import type { Ledger } from '../store/open.ts'
import { listPlain } from '../store/plain-stills.ts'
import type { Settings } from '../store/settings.ts'
import { findStills, type StillView } from '../store/still-views.ts'
import { type CardOutline, type CardStill, cardsInOrder, cardsOf, outlinesOf } from '../tally/cards.ts'
import type { NightDate } from '../words.ts'
import { stillOf } from './answers.ts'
import type { CheckCard, CheckCardsAnswer, Still } from './shapes.ts'

/** Two hundred busy points flag some thousand a night; this is where a night must end on a very bad one. */
const MAX_STILLS_A_NIGHT = 10_000

type LightCard = CardOutline<FlaggedStill>

export interface CardsAsked {
  readonly night: NightDate
  readonly limit: number
  /** `flagged` unless said: what needs a look. `plain`: the night's other visits. */
  readonly which?: 'flagged' | 'plain'
  /** `matters` unless said: feral, then unsure. `teaches`: first what the models are least decided on. */
  readonly order?: 'matters' | 'teaches'
  readonly settings: Settings
}

/** The first `limit` cards of a night in the order asked for, and how many wait and are checked in all of it. */
export async function checkCardsOf(
  ledger: Ledger,
  { night, limit, which = 'flagged', order = 'matters', settings }: CardsAsked,
): Promise<CheckCardsAnswer> {
  const list = which === 'flagged' ? listFlagged : listPlain
  const ofNight = await list(ledger, { night, limit: MAX_STILLS_A_NIGHT })
  const byWeight = lightCards(ofNight, settings)
  const cards = order === 'teaches' ? await mostTeachingFirst(ledger, byWeight, settings) : byWeight
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
function lightCards(stills: readonly FlaggedStill[], { visitGapMinutes }: Settings): LightCard[] {
  const byPoint = new Map<number, FlaggedStill[]>()
  for (const still of stills) {
    const others = byPoint.get(still.pointId)
    if (others === undefined) byPoint.set(still.pointId, [still])
    else others.push(still)
  }
  return cardsInOrder([...byPoint.values()].flatMap((ofPoint) => outlinesOf(ofPoint, visitGapMinutes)))
}

/** Those on which a word would teach the station's own namer most; of equals as they were. */
async function mostTeachingFirst(
  ledger: Ledger,
  cards: readonly LightCard[],
  settings: Settings,
): Promise<LightCard[]> {
  const boxes = await listNamedBoxes(
    ledger,
    cards.flatMap(({ stills }) => stills.map(({ id }) => id)),
  )
  const ofStill = new Map<number, NamedBox[]>()
  for (const box of boxes) {
    const others = ofStill.get(box.stillId)
    if (others === undefined) ofStill.set(box.stillId, [box])
    else others.push(box)
  }
  const teaches = new Map(
    cards.map(({ key, stills }) => [
      key,
      wouldTeach(
        stills.flatMap(({ id }) => ofStill.get(id) ?? []),
        settings.thresholds,
      ),
    ]),
  )
  return [...cards].sort((a, b) => teaches.get(b.key)! - teaches.get(a.key)!)
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
    checked: views.every(({ still }) => still.checked),
  }
}

function cardStillOf({ still }: StillView, shown: Still, settings: Settings): CardStill {
  const feralBoxes = shown.boxes.filter((box) => settings.feral.has(box.species))
  const scores = (feralBoxes.length > 0 ? feralBoxes : shown.boxes).map((box) => box.score)
  return {
    id: still.id,
    at: toInstant(still.taken_at),
    tally: shown.tally,
    flagged: still.flagged,
    sharpness: still.sharpness,
    feral: feralBoxes.length > 0,
    score: Math.max(0, ...scores),
  }
}
