/** Words of This station's own animals. */
import type { NamersAnswer } from '../../services/http/own-animal-shapes.ts'
import type { RerunCount } from '../../services/http/shapes.ts'
import { SPECIES } from '../../services/words.ts'
import { list, plural, speciesMany, speciesName } from './counts.ts'
import { dayName } from './times.ts'

type Version = NamersAnswer['versions'][number]
type OfOne = Version['trial']['ofEach'][number]

export const ownAnimalWords = {
  hint: 'What people say of photos teaches Hooftally how the animals look here: their breeds, colours and light. It is tried first on nights it has not learnt from, and used only where the camera count comes out better. What people said is never changed.',
  cannot:
    'The models of this station do not name single animals, so there is nothing to learn from. Kinds of your own can be kept all the same, for what people say.',
  tried: 'How the trial went',
  ofEach: 'How often each was counted wrongly in the trial: missed, or another taken for it',
  species: 'Animal',
  before: 'Before',
  now: 'As learnt',
  so: 'Its count',
  turnOff: 'Turn it off',
  turnOffSure:
    'New photos are named as before, and photos that were named by what was learnt get their old names back, in the background. Turn it off?',
  turnOffYes: 'Yes, turn it off',
  turnOn: 'Turn it on',
  use: 'Use it',
  takesNew: 'When it learns to count better still, use that by itself',
  again: 'Name the photos of the last four weeks again',
  againUnderWay: 'Old photos are being gone through just now.',
  againHow: 'See how far it is',
  againNone: 'Every photo worth a look of the last four weeks has been named by what was learnt.',
  learntFrom: 'What there is to learn from',
  enough: 'enough',
  tooFew: 'too few yet: named as before',
  notHere: 'Never on this station',
  notHereHint:
    'What looks like a species that never comes can then be learnt as something else: sheep that are taken for goats, say. Should it come after all, untick it.',
  trainingSet: 'For whoever trains models',
  trainingSetHint:
    'Checked photos with their boxes, as one file. Photos on which a person was marked are not in it; look at the others before you give it away.',
  download: 'Download checked photos',
  kinds: 'Kinds of your own',
  kindsHint:
    'Animals that are none of the five, such as sheep, dogs or roos. They can be said of a photo that is checked, and once enough were they are named on photos. They are in no count.',
  noKinds: 'None yet.',
  kindName: 'Kind',
  addKind: 'Add the kind',
  remove: 'Take off the list',
  removeLabel: (name: string) => `Take ${name} off the list`,
  removeSure: 'What people said of it stays. Take it off the list?',
  removeYes: 'Yes, take it off',
} as const

/** How it stands, in a sentence or two. */
export function standingWords(namers: NamersAnswer): string {
  const { versions, inUse, isOn, atWork, animals, triedAt } = namers
  const learning = atWork ? ' It is learning just now.' : ''
  const used = versions.find(({ version }) => version === inUse)
  if (used !== undefined)
    return `On: photos are named by what was learnt from ${plural(used.animals, 'checked animal')}, on ${dayName(used.madeAt)}.${learning}`
  if (!isOn) return `Turned off: photos are named as Hooftally came.${learning}`
  const next = `${plural(animals, 'checked animal')} so far; it ${versions.length === 0 ? 'tries' : 'tries again'} at ${triedAt.toLocaleString('en-AU')}.`
  return `Photos are named as Hooftally came. ${next}${learning}`
}

/** What the latest trial came to. */
export function verdictWords({ verdict, trial }: Version): string {
  switch (verdict) {
    case 'take':
      return savedWords(trial)
    case 'no better than chance':
      return `${savedWords(trial)} That may be chance, so it is not used.`
    case 'worse for a species': {
      const worse = trial.ofEach.filter((one) => one.worse).map((one) => manyOf(one.name))
      return `${savedWords(trial)} But it would count ${list(worse)} worse, so it is not used.`
    }
    case 'too few nights':
      return 'The checked animals came in too few nights to tell whether it names better.'
  }
}

/** `20 in 100 fewer were counted wrongly: 68 of 519 animals, 85 before.` */
function savedWords({ wrongBefore, wrongNow, animals }: Version['trial']): string {
  const of = `${wrongNow.toLocaleString('en-AU')} of ${plural(animals, 'animal')}, ${wrongBefore.toLocaleString('en-AU')} before`
  if (wrongNow === 0 && wrongBefore > 0)
    return `None of ${plural(animals, 'animal')} was counted wrongly, ${wrongBefore.toLocaleString('en-AU')} before.`
  if (wrongBefore === wrongNow) return `As many were counted wrongly as before: ${of}.`
  const share = Math.round((100 * Math.abs(wrongBefore - wrongNow)) / Math.max(1, wrongBefore))
  return `${share} in 100 ${wrongNow < wrongBefore ? 'fewer' : 'more'} were counted wrongly: ${of}.`
}

/** `Cattle and donkeys are named as before: too few were checked.`; empty where all five were learnt. */
export function leftWords({ kinds }: Version): string {
  const left = SPECIES.filter((species) => !kinds.includes(species)).map(speciesMany)
  if (left.length === 0) return ''
  const named = list(left)
  return `${named.slice(0, 1).toUpperCase()}${named.slice(1)} are named exactly as before: too few were checked.`
}

/** `no worse`, `better`, `worse`: of one species, by all that was wrong with its count. */
export function speciesTrialWords(one: OfOne): string {
  if (one.worse) return 'worse'
  return wrongNow(one) < wrongBefore(one) ? 'better' : 'no worse'
}

export const wrongBefore = (one: OfOne): number => one.missedBefore + one.falseBefore
export const wrongNow = (one: OfOne): number => one.missedNow + one.falseNow

/** `57 animals, 31 nights: enough` */
export function learntFromWords(
  { kind, animals, nights, enough }: NamersAnswer['ofEach'][number],
  absent: NamersAnswer['absent'],
): string {
  if (absent.some((species) => species === kind)) return 'never on this station'
  if (animals === 0) return 'none checked yet: named as before'
  return `${plural(animals, 'animal')}, ${plural(nights, 'night')}: ${enough ? ownAnimalWords.enough : ownAnimalWords.tooFew}`
}

/** `Cattle`, `Sheep`; what is none of the five nor a kind of one's own is `Anything else`. */
export function kindTitle(kind: string): string {
  const species = SPECIES.find((one) => one === kind)
  if (species !== undefined) return speciesName(species)
  return kind === 'other' ? 'Anything else' : kind.slice(0, 1).toUpperCase() + kind.slice(1)
}

function manyOf(name: string): string {
  const species = SPECIES.find((one) => one === name)
  return species === undefined ? name : speciesMany(species)
}

/** `420 photos worth a look can be named again ...` */
export function againOffer({ photos }: RerunCount): string {
  if (photos === 0) return ownAnimalWords.againNone
  return `${plural(photos, 'photo')} worth a look of the last four weeks ${photos === 1 ? 'was' : 'were'} named before this was learnt. ${photos === 1 ? 'It' : 'They'} can be named again from what was kept, in the background; what people checked stands.`
}
