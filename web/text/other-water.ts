/** Words of other water for stock and wildlife, and of what is in the way without it. */
import type { TrapYardsAnswer, YardPoint, YardTryAnswer } from '../../services/http/trap-yard-shapes.ts'
import { list } from './counts.ts'
import { dayName } from './times.ts'
import { namesOf } from './trap-yards.ts'

type Lack = YardTryAnswer['lacks'][number]['lack']

const LACKS: Readonly<Record<Exclude<Lack, 'kept open'>, string>> = {
  'not said': 'Nobody has confirmed other water for',
  'taken back': 'The word on other water was taken back for',
  'ask again': 'Confirmed too long ago, or in another half-year, so confirm again for',
  'closed as well': 'Its other water would be closed as well:',
  'off or dry': 'Its other water was last said to be off or dry:',
}

/** What is in the way of closing waters, a line for each reason. */
export function lackLines(answer: TrapYardsAnswer, lacks: YardTryAnswer['lacks']): string[] {
  const reasons = [...new Set(lacks.map(({ lack }) => lack))]
  return reasons.flatMap((reason) => {
    const ids = lacks.filter(({ lack }) => lack === reason).map(({ pointId }) => pointId)
    if (reason !== 'kept open') return [`${LACKS[reason]} ${namesOf(answer, ids)}.`]
    return ids.map((id) => {
      const { name, keptOpenFor } = answer.points.find(({ pointId }) => pointId === id)!
      return `${name} is kept open: it is other water for ${namesOf(answer, keptOpenFor)}.`
    })
  })
}

/** Points of one word on other water, said at once, are told in one line. */
export function saidTogether(points: readonly YardPoint[]): YardPoint[][] {
  const words = new Map<string, YardPoint[]>()
  for (const point of points) {
    const word = JSON.stringify(point.otherWater)
    words.set(word, [...(words.get(word) ?? []), point])
  }
  return [...words.values()]
}

/** `Kite Bore and Galah Well: Ironbark Dam stays open (station, Sat 28 Nov)`; all by one word. */
export function otherWaterLine(answer: TrapYardsAnswer, points: readonly YardPoint[]): string {
  const { openPointIds, elsewhere, who, at } = points[0]!.otherWater
  const waters = [
    ...(openPointIds.length > 0
      ? [`${namesOf(answer, openPointIds)} ${openPointIds.length === 1 ? 'stays' : 'stay'} open`]
      : []),
    ...(elsewhere === null ? [] : [elsewhere]),
  ]
  return `${list(points.map(({ name }) => name))}: ${waters.join('; ')} (${who}, ${dayName(at!)})`
}

export const otherWaterWords = {
  title: 'Other water for stock and wildlife',
  confirm: 'Confirm other water',
  confirmed: 'Confirmed',
  forWhich: 'When gates are set at',
  stays: 'these waters stay open for stock and wildlife',
  elsewhere: 'Other water that is no point',
  elsewhereHint: 'Where it is, and for which animals',
  save: 'It is sure',
  takeBack: 'Take back',
  takeBackLabel: (name: string) => `Take back the word on other water for ${name}`,
  lasts:
    'Your word is kept with its date. It holds for 90 days, and is asked again when the hot or the cool half-year begins.',
} as const
