/** The week as one HTML page that needs nothing else: for a mail's attachment, a notice board, a file. */

import { plural, speciesMany, speciesName } from '../../web/text/counts.ts'
import {
  beingReadLine,
  changesOf,
  checkLine,
  gapsOf,
  nightsNumber,
  rangeWords,
  watchedLine,
  weekSpan,
  weekTitle,
  pressureWords as words,
} from '../../web/text/pressure.ts'
import { notOwnerless, waterSafety } from '../../web/text/safety.ts'
import { dayName } from '../../web/text/times.ts'
import type { PressureAnswer, PressurePoint, PressureRow } from '../http/pressure-shapes.ts'
import { escaped } from './html-text.ts'
import { pageStyle } from './page-style.ts'

/** As on screen, in black on white. */
export function reportHtml(whole: PressureAnswer): string {
  const report = seenOnly(whole)
  const title = `${words.title}, ${weekTitle(report.week)}`
  return `<!doctype html>
<html lang="en-AU">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>${escaped(`${title}, ${report.station}`)}</title>
<style>${pageStyle}</style>
</head>
<body>
<h1>${escaped(title)}</h1>
<p><strong>${escaped(report.station)}</strong>, ${escaped(weekSpan(report))}</p>
<p>${escaped(watchedLine(report))}</p>
${changes(report)}
${matrix(report)}
${seenSpecies(report)
  .map((species) => nights(report, species))
  .join('\n')}
${water(report)}
<h2>${words.gaps}</h2>
${list(gapsOf(report), words.allWatched)}
<p>${escaped(checkLine(report))}</p>
<footer><p>${words.least}</p><p>${waterSafety}</p><p>${notOwnerless}</p></footer>
</body>
</html>
`
}

/** Without the rows that a CSV has of species that nobody saw at a point. */
function seenOnly(report: PressureAnswer): PressureAnswer {
  const rows = report.rows.filter(
    ({ visits, visitsNotWatched, fourWeeks }) => visits + visitsNotWatched + fourWeeks.visits > 0,
  )
  return { ...report, rows }
}

function changes(report: PressureAnswer): string {
  return `<h2>${words.changed}</h2>\n${list(changeLines(report), words.nothingChanged)}`
}

function changeLines(report: PressureAnswer): string[] {
  const beingRead = beingReadLine(report)
  const changed = changesOf(report).map(({ words: told, unlike }) =>
    unlike === null ? told : `${told} ${unlike}`,
  )
  return beingRead === null ? changed : [beingRead, ...changed]
}

const seenSpecies = ({ species, rows }: PressureAnswer) =>
  species.filter((one) => rows.some((row) => row.species === one.species)).map((one) => one.species)

function matrix(report: PressureAnswer): string {
  const seen = seenSpecies(report)
  if (seen.length === 0) return `<p>${words.nothingSeen}</p>`
  const row = (point: PressurePoint) =>
    tableRow(point.name, [
      ...seen.map((species) => matrixCell(point, rowOf(report, point, species))),
      cell(nightsNumber(point.watchedNights)),
    ])
  return `<h2>${words.byPoint}</h2>
<p class="hint">${words.byPointPaper}</p>
${table([words.point, ...seen.map(speciesName), words.heads.watched], report.points.map(row))}`
}

const rowOf = ({ rows }: PressureAnswer, { pointId }: PressurePoint, species: string) =>
  rows.find((row) => row.pointId === pointId && row.species === species)

function matrixCell(point: PressurePoint, row: PressureRow | undefined): string {
  if (point.watchedNights === 0) return cell('not watched', 'blind')
  if (row === undefined) return cell('0')
  return `<td>${row.visits} <small>${row.fourWeeks.verdict}</small></td>`
}

function nights(report: PressureAnswer, species: PressureRow['species']): string {
  const here = report.points.filter((point) => rowOf(report, point, species) !== undefined)
  const row = (point: PressurePoint) => {
    const of = rowOf(report, point, species)!
    const cells = report.nights.map((_, i) =>
      nightCell(of.visitsByNight[i]!, point.watchedByNight[i] ?? null),
    )
    return tableRow(point.name, [...cells, cell(rangeWords(of.visitRate)), cell(String(of.largest))])
  }
  return `<h2>${escaped(words.nights(species))}</h2>
<p class="hint">${escaped(`Points where ${speciesMany(species)} were seen in the five weeks.`)}</p>
${table(
  [words.point, ...report.nights.map((night) => dayName(night)), words.heads.rate, words.heads.largest],
  here.map(row),
)}`
}

function nightCell(visits: number, watched: number | null): string {
  if (visits > 0) return cell(String(visits), watched === 0 ? 'blind' : undefined)
  if (watched === null) return cell('?')
  return watched === 0 ? cell('not watched', 'blind') : cell('0')
}

function water(report: PressureAnswer): string {
  const drunk = report.points.filter(
    (point) => (point.water.feral?.rate ?? 0) + (point.water.stock?.rate ?? 0) > 0,
  )
  if (drunk.length === 0) return ''
  const rows = drunk.map((point) =>
    tableRow(point.name, [cell(rangeWords(point.water.feral)), cell(rangeWords(point.water.stock))]),
  )
  const memory = report.ratings.filter(({ fromMemory, kind }) => fromMemory && kind === 'litres')
  const check =
    memory.length === 0
      ? ''
      : ` Ratings of ${memory.map(({ species }) => speciesMany(species)).join(', ')}: from memory, check locally.`
  return `<h2>${words.water}</h2>
<p class="hint">${escaped(words.waterHint + check)}</p>
${table([words.point, words.byFerals, words.byStock], rows)}`
}

function table(heads: readonly string[], rows: readonly string[]): string {
  const head = heads.map((one) => `<th scope="col">${escaped(one)}</th>`).join('')
  return `<table><thead><tr>${head}</tr></thead><tbody>\n${rows.join('\n')}\n</tbody></table>`
}

const tableRow = (name: string, cells: readonly string[]) =>
  `<tr><th scope="row">${escaped(name)}</th>${cells.join('')}</tr>`

const cell = (text: string, look?: string) =>
  `<td${look === undefined ? '' : ` class="${look}"`}>${escaped(text)}</td>`

const list = (lines: readonly string[], none: string) =>
  lines.length === 0
    ? `<p>${none}</p>`
    : `<ul>${lines.map((line) => `<li>${escaped(line)}</li>`).join('')}</ul>`

/** The same week in a few lines, for the body of a mail. */
export function reportLines(whole: PressureAnswer): string[] {
  const report = seenOnly(whole)
  const changed = changeLines(report)
  const sums = report.species
    .filter(({ species }) => seenSpecies(report).includes(species))
    .map(({ species, visits }) => `${speciesName(species)}: ${plural(visits, 'visit')}`)
  return [
    `${report.station}, ${weekTitle(report.week)}: ${weekSpan(report)}.`,
    watchedLine(report),
    '',
    ...(changed.length === 0 ? [words.nothingChanged] : changed.map((line) => `- ${line}`)),
    '',
    ...(sums.length === 0 ? [words.nothingSeen] : [`${sums.join('; ')}.`]),
    ...gapsOf(report),
    checkLine(report),
    '',
    words.least,
    waterSafety,
    notOwnerless,
  ]
}
