/** A target list as one HTML page: the A4 sheet, and what a link shows. It stands alone and needs no script. */

import { linkWords } from '../../web/text/links.ts'
import { listTitle, programLine, restsOn, programWords as words } from '../../web/text/programs.ts'
import { programSafety } from '../../web/text/safety.ts'
import {
  accessWords,
  bringWords,
  groupWords,
  headWords,
  hoursWords,
  lastNightsWords,
  lastSeenWords,
  legWords,
  nightsWords,
  othersWords,
  roundWords,
  straightWords,
} from '../../web/text/target-list.ts'
import { dayAndClock } from '../../web/text/times.ts'
import type { TargetLine, TargetListAnswer } from '../http/program-shapes.ts'
import { escaped } from './html-text.ts'
import { targetSheetStyle } from './target-sheet-style.ts'

/** So few lines leave room on an A4 page for large photos and letters. */
const FEW = 2
/** With photos so many lines fill it; of more the words are set close, and of many more there are no photos. */
const MOST_WITH_PHOTOS = 4
const MOST_WITH_SMALL_PHOTOS = 6

export interface SheetLook {
  /** Of the photo beside a point. */
  readonly photoUrl: (line: TargetLine) => string
  /** Where the sheet is the owner's own: its way back, and a button to print it. */
  readonly own: { readonly back: string } | null
  /** When a link ends. */
  readonly until: string | null
}

export function targetSheet(list: TargetListAnswer, look: SheetLook): string {
  const { program } = list
  const title = listTitle(program)
  const { length } = list.lines
  const small = length <= MOST_WITH_SMALL_PHOTOS ? 'many pictured' : 'many'
  const room = length <= FEW ? 'few' : length <= MOST_WITH_PHOTOS ? 'some' : small
  return `<!doctype html>
<html lang="en-AU">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<meta name="robots" content="noindex">
<title>${escaped(`${title}, ${list.station}`)}</title>
<style>${targetSheetStyle}</style>
${look.own === null ? '' : '<script src="/print.js" defer></script>'}
</head>
<body class="${room}">
${look.own === null ? '' : `<p class="bar"><a href="${escaped(look.own.back)}">${escaped(words.parts.list)}</a><button type="button" id="print" hidden>${words.outputs.print}</button></p>`}
<div class="head"><div>
<h1>${escaped(title)}</h1>
<p><strong>${escaped(list.station)}</strong>: ${escaped(programLine(program))}</p>
</div>
<p class="soft">${escaped(words.version(list.version))}, ${escaped(dayAndClock(list.now))}${look.until === null ? '' : `<br>${escaped(linkWords.until(look.until))}`}</p></div>
${program.note === null ? '' : `<p>${escaped(program.note)}</p>`}
<p class="soft">${escaped(restsOn(list))} ${escaped(words.average)}${list.waiting === 0 ? '' : ` ${escaped(words.waiting(list.waiting))}`}</p>
${list.lines.length === 0 ? `<p>${escaped(words.noLines.what)}</p>` : `<ol>\n${list.lines.map((line, i) => lineOf(line, i, { list, look })).join('\n')}\n</ol>`}
${list.lines.length === 0 ? '' : `<p><strong>${words.round}</strong> ${escaped(roundLine(list))}</p>`}
<div class="safety"><ul>${programSafety.map((line) => `<li>${escaped(line)}</li>`).join('')}</ul></div>
<p class="soft">${escaped(words.cantKnow)}</p>
</body>
</html>
`
}

function lineOf(
  line: TargetLine,
  i: number,
  { list, look }: { readonly list: TargetListAnswer; readonly look: SheetLook },
): string {
  const { photo } = line
  const picture =
    photo === null
      ? '<span class="none">no photo</span>'
      : `<img src="${escaped(look.photoUrl(line))}" alt="${escaped(`Latest photo at ${line.name}`)}"><small>${escaped(dayAndClock(photo.takenAt))}</small>`
  const first = [
    nightsWords(line),
    lastNightsWords(line),
    line.nightsSeen === 0 ? null : hoursWords(line),
    lastSeenWords(line, list.now),
    line.largestGroup === 0 ? null : groupWords(line),
  ]
  const second = [
    ...accessWords(line),
    withHead(words.also, othersWords(line)),
    withHead(words.bring, bringWords(line)),
  ]
  return `<li class="line"><span class="place">${i + 1}</span>
<div class="picture">${picture}</div>
<div class="told"><p><span class="tick"></span> <span class="name">${escaped(line.name)}</span> <small>${escaped(`${line.kind}; ${placeWords(line)}; ${legWords(list.round, i)}`)}</small></p>
<p class="expect">${escaped(headWords(line))}</p>
<div class="cells"><div>${paragraphs(first)}${line.note === null ? '' : `\n<p><strong>${escaped(line.note)}</strong></p>`}</div><div>${paragraphs(second)}</div></div></div></li>`
}

/** Five decimals: a metre. */
const placeWords = ({ lat, lon }: TargetLine) => `${lat.toFixed(5)}, ${lon.toFixed(5)}`

const withHead = (head: string, text: string | null) => (text === null ? null : `${head}: ${text}`)

const paragraphs = (lines: ReadonlyArray<string | null>) =>
  lines.map((line) => (line === null ? '' : `<p>${escaped(line)}</p>`)).join('\n')

function roundLine(list: TargetListAnswer): string {
  const straight = straightWords(list.round)
  const { kmAnHour, minutesAtPoint, own } = list.driving
  const speed = words.driving(kmAnHour, minutesAtPoint, own)
  return `${words.inThisOrder.replace(/:$/, '')}: ${roundWords(list.round)}. ${speed}${straight === null ? '' : ` ${straight}`}`
}

/** What a link says that has ended, or that nobody has made. */
export function closedSheet(title: string, what: string, remedy: string): string {
  return `<!doctype html>
<html lang="en-AU">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><meta name="robots" content="noindex">
<title>${escaped(title)}</title><style>${targetSheetStyle}</style></head>
<body><h1>${escaped(title)}</h1><p>${escaped(what)}</p><p>${escaped(remedy)}</p></body>
</html>
`
}
