/** What to take to a program's points, from its method and the head to be ready for. Common practice, no source. */
import type { Species } from '../../services/words.ts'
import { head as headOf } from './counts.ts'

export interface Load {
  /** As the owner names it. */
  readonly method: string
  readonly species: Species | null
  /** To be ready for; null: not known. */
  readonly head: number | null
  /** That they drink at most, by the station's ratings; null: not known. */
  readonly litresADay: number | null
}

const HOLDS = /trap|yard|muster|gather/i
const MUSTERS = /muster|gather/i
const FROM_AFAR = /aerial|helicopter|air|ground|shoot/i

/** One line each, in the order in which they are looked for. Nothing of weapons or baits: that is for those licensed. */
export function whatToTake({ method, species, head, litresADay }: Load): readonly string[] {
  const animals = head === null ? 'what is held' : species === null ? `${head} head` : headOf(species, head)
  const litres = litresADay === null ? '' : `: ${litresADay.toLocaleString('en-AU')} L a day by your ratings`
  return [
    'This list, the target list, the yard sheet, a pen that writes when wet',
    'Permits, permissions and movement papers that the codes here ask for',
    'Two-way radio or satellite phone; somebody who knows where you are and when you are back',
    'First aid, water and food for everybody, hats, gloves; fuel, spare tyres, tools, jack',
    ...(HOLDS.test(method) ? holding(animals, litres) : []),
    ...(MUSTERS.test(method)
      ? ['Horses, bikes or vehicles with fuel and rest for them; people who know the country']
      : []),
    ...(FROM_AFAR.test(method)
      ? [
          'Signs for every track in; the neighbours’ notice given out and answered',
          'What the licensed people on the job ask for: their list, not this one',
        ]
      : []),
    'Batteries, cards and a spare camera; wire, pliers, cable ties for what was pushed over',
    'Float valve, pipe fittings and clamps: a yard is a reason that troughs get broken',
  ]
}

const holding = (animals: string, litres: string): readonly string[] => [
  `Water for ${animals}${litres}, and a trough that they can’t tip`,
  `Shade for ${animals}: cloth and poles where no tree stands inside`,
  `Feed for ${animals} for as long as they are held, and some days for a truck that is late`,
  `Panels and gates to hold ${animals} without crowding; pins, chain, spare hinges, a one-way gate that swings`,
  'A way to part stock, wildlife, and mothers with their young from the others',
  'Ramp and forcing pen that fit the truck; light for loading',
  'Tag reader or the brand book; numbers of a vet, the carrier and the neighbours',
]
