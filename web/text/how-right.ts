/** Words of the page that says how right the camera count is. */
import type { EvidenceAnswer, MarksAnswer } from '../../services/http/evidence-shapes.ts'
import type { Name, Species } from '../../services/words.ts'
import { plural, speciesMany, speciesName } from './counts.ts'
import { percent } from './shares.ts'
import { dayName } from './times.ts'

export const howRightWords = {
  title: 'How right the count is',
  lead: 'No machine counts without mistakes. Here is how many this one makes on your own photos, and how sure that is.',
  looks: {
    title: 'By blind looks',
    hint: 'Photos drawn by lot, and looked at by a person who did not see what the camera count had made of them. A look is up to twelve photos of one point with no gap longer than your minutes between visits.',
    none: {
      what: 'No blind looks yet.',
      remedy:
        'Each Monday afternoon some photos of the week before are drawn by lot. Once people have said what is in them, this page shows how often a flag is right, how much is missed, and counts put right by it.',
      action: 'Blind look',
    },
    go: 'Go to the blind look',
    species: 'Species',
    right: 'Flagged, and truly so',
    missed: 'Not flagged, and there all the same',
    found: 'Found, of all looks with them',
    notTold: 'Not told yet',
    notForStock: 'Told of feral species only',
    rule: (looks: number) => `To say that under 1 % is missed takes ${looks} looks, none of them with one.`,
    note: 'The range is where the truth lies, with 95 % certainty. Flagged photos that people had looked at before the draw stand for themselves only; photos that people chose later are not used here.',
    parts: 'By day and infra-red, and by camera',
    light: 'Light',
    camera: 'Camera',
    anyRight: 'Flagged, and truly so',
    anyMissed: 'Feral, and missed',
  },
  counts: {
    title: 'Counts, as seen and put right',
    hint: 'As seen: what stood when the looks were drawn. Put right: what the looks say was there. The two are never mixed: every other page shows counts as seen.',
    week: (from: string) => `The week of ${dayName(from)}`,
    together: (weeks: number, from: string, to: string) =>
      `${weeks} weeks together, ${dayName(from)} to ${dayName(to)}`,
    visits: 'Visits',
    head: 'Animal-visits',
    seen: (count: number) => `${count.toLocaleString('en-AU')} as seen`,
    putRight: (main: string) => `${main} put right`,
    points: 'Points with looks enough to say',
    noPoints: 'At no single point are the looks enough to say.',
    note: 'A visit with more than twelve photos counts once for each twelve.',
  },
  marks: {
    title: 'Marks',
    hint: 'From how sure on a photo is worth a look, and counts: what other marks would catch, and cost.',
    species: 'Species',
    flag: 'Worth a look from',
    count: 'Counted from',
    cost: (species: Species) => `A missed ${species} costs as much as`,
    falseFlags: (count: number) => plural(count, 'false flag'),
    cheapest: (mark: number) => `Least cost: ${percent(mark)} sure`,
    take: (mark: number) => `Take ${percent(mark)}`,
    save: 'Save these marks',
    saved: 'Saved. All photos are being counted again in the background; what people said stays.',
    back: 'Back to the marks as they are',
    chart: (species: Species) => `Marks for ${speciesMany(species)}: found against truly so`,
    found: 'found',
    right: 'truly so',
    table: 'The same in numbers',
    mark: 'Mark',
  },
  models: {
    title: 'By version, on photos people spoke of',
    hint: 'All photos with a word on them. People speak mostly of photos that were flagged, so these say which animal is taken for which, not how much is missed.',
    none: {
      what: 'Nobody has spoken of a photo yet.',
      remedy: 'Check some photos: what is taken for what will stand here.',
      action: 'Photos to check',
    },
    ownNames: (version: number) => `with this station’s own names, version ${version}`,
    learnedFrom: (photos: number) =>
      photos === 0 ? '' : `${plural(photos, 'photo')} left out from which those names were learned.`,
    present: 'looks at photos now',
    earlier: 'an earlier one',
    confusion: 'What was taken for what',
    truly: 'Truly',
    confusionHint: 'Down: what they truly were. Across: what they were counted as.',
    spoken: (photos: number, blind: number) =>
      `${plural(photos, 'photo')}, ${blind} of them drawn for a blind look.`,
    untold: (photos: number) =>
      photos === 0
        ? ''
        : `${plural(photos, 'photo')} left out, where more animals were counted than were there, or several kinds: it can’t be told which is which.`,
    reliability: 'Is it as right as it is sure?',
    reliabilityHint:
      'Of photos it was 70 % sure of, seven in ten should be right: dots on the line. The bars are where the truth lies with 95 % certainty.',
    sure: 'how sure',
    right: 'how often right',
    brier: (score: number) =>
      `Brier score ${score.toFixed(3)}: 0 is always sure and right, 2 always sure and wrong.`,
    byLight: 'By day and infra-red',
    byCamera: 'By camera',
    boxes: 'Animals counted right',
    card: 'From the models’ card, on photos they had never seen',
    photos: 'Photos',
  },
} as const

/** What blind looks were drawn in which weeks. */
export function weeksWords({ weeks, versions }: Pick<EvidenceAnswer, 'weeks' | 'versions'>): string {
  const [newest] = weeks
  const oldest = weeks.at(-1)
  if (newest === undefined || oldest === undefined) return ''
  const looks = weeks.reduce((sum, week) => sum + week.looks, 0)
  const lookedAt = weeks.reduce((sum, week) => sum + week.lookedAt, 0)
  const mixed =
    versions > 1 ? ` ${versions} versions of the models had looked at them, told together here.` : ''
  return `${lookedAt} of ${plural(looks, 'look')} have a word, ${dayName(oldest.from)} to ${dayName(newest.to)}.${mixed}`
}

/** Which weeks' counts are put right. */
export function spellWords({ weeks, from, to }: EvidenceAnswer['counts'][number]): string {
  return weeks === 1 ? howRightWords.counts.week(from) : howRightWords.counts.together(weeks, from, to)
}

/** `Camel`, and for what is none of the five `None of these`. */
export function nameWords(name: Name): string {
  return name === 'other' ? 'None of these' : speciesName(name)
}

/** Where the curve of a species comes from, and how far it can be trusted. */
export function marksFrom({ from, photos, there, species }: MarksAnswer): string {
  const many = `${plural(photos, 'photo')}, ${there} of them with ${speciesMany(species)}`
  return from === 'looks'
    ? `From blind looks, and what had been looked at before them: ${many}. What is missed is among it.`
    : `From photos that people chose: ${many}. Hardly any of them is one that was not flagged, so what is missed is hardly among it; blind looks will tell.`
}

type Step = MarksAnswer['steps'][number]

/** What a mark to look from would do, beside the one there is. */
export function flagStepWords(step: Step, now: Step, species: Species): string[] {
  const change = step.toLookAt - now.toLookAt
  const beside = change === 0 ? 'as now' : `${Math.abs(change)} ${change > 0 ? 'more' : 'fewer'} than now`
  const lines = [`Last week: ${plural(step.toLookAt, 'photo')} to look at, ${beside}.`]
  if (step.recall !== null)
    lines.push(
      `Of photos with ${speciesMany(species)}, ${percent(step.recall)} are found and ${percent(1 - step.recall)} missed.`,
    )
  if (step.precision !== null)
    lines.push(`Of the photos it finds, ${percent(step.precision)} truly hold ${speciesMany(species)}.`)
  return lines
}

export function countStepWords(step: Step, now: Step, species: Species): string[] {
  const change = step.counted - now.counted
  const beside = change === 0 ? 'as now' : `${Math.abs(change)} ${change > 0 ? 'more' : 'fewer'} than now`
  const lines = [
    `Last week: ${plural(step.counted, 'photo')} with ${speciesMany(species)} counted, ${beside}.`,
  ]
  if (step.precision !== null && step.recall !== null)
    lines.push(`${percent(step.precision)} of them truly so, and ${percent(1 - step.recall)} of all missed.`)
  return lines
}
