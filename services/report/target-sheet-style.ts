/** The style of a target list on paper and behind a link: one A4 page, rows that keep together, dark where the reader's is. */
export const targetSheetStyle = `
@page { size: A4; margin: 8mm }
:root { color-scheme: light dark; --ground: #fff; --ink: #000; --line: #777; --soft: #333 }
* { box-sizing: border-box }
body { margin: 0 auto; padding: 0.8rem; max-width: 60rem; background: var(--ground); color: var(--ink);
  font: 400 11pt/1.35 system-ui, sans-serif; font-variant-numeric: tabular-nums; overflow-wrap: anywhere }
h1 { margin: 0; font-size: 16pt; line-height: 1.2 }
h2 { margin: 0.8rem 0 0.2rem; font-size: 12pt }
p { margin: 0.15rem 0 }
ol, ul { margin: 0; padding: 0; list-style: none }
.head { display: flex; gap: 1rem; justify-content: space-between; align-items: start }
.line { display: grid; grid-template-columns: 1.8rem 8.5rem minmax(0, 1fr); gap: 0.2rem 0.7rem; padding: 0.45rem 0; border-top: 1px solid var(--line); break-inside: avoid }
.place { font-size: 15pt; font-weight: 700; line-height: 1.1 }
.line img { width: 100%; height: auto; border: 1px solid var(--line) }
.line small, .soft { color: var(--soft); font-size: 9.5pt }
.none { display: grid; place-items: center; min-height: 4rem; border: 1px dashed var(--line); color: var(--soft); font-size: 9pt; text-align: center }
.name { font-weight: 700; font-size: 12.5pt }
.expect { font-weight: 700 }
.cells { display: grid; grid-template-columns: repeat(2, minmax(0, 1fr)); gap: 0.1rem 1rem }
.cells p::first-letter, .expect::first-letter { text-transform: uppercase }
.tick { display: inline-block; width: 0.9em; height: 0.9em; border: 1px solid var(--ink); vertical-align: -0.1em }
.safety { margin-top: 0.8rem; border: 2px solid var(--ink); padding: 0.4rem 0.6rem; break-inside: avoid }
.safety li { margin: 0.15rem 0 }
.bar { display: flex; gap: 0.5rem; padding-bottom: 0.8rem }
.bar button, .bar a { display: inline-flex; align-items: center; min-height: 48px; padding: 0.3rem 1rem; border: 2px solid var(--ink);
  border-radius: 10px; background: var(--ground); color: var(--ink); font: inherit; font-weight: 600; text-decoration: none }
@media screen and (prefers-color-scheme: dark) { :root { --ground: #17110d; --ink: #f6e9d7; --line: #8a7560; --soft: #cfbba4 } }
@media screen and (max-width: 560px) {
  .head { display: block }
  .line { grid-template-columns: 1.8rem minmax(0, 1fr) }
  .line .picture { grid-column: 2 }
  .line .told { grid-column: 1 / -1 }
  .cells { grid-template-columns: minmax(0, 1fr) }
}
@media print {
  :root { color-scheme: light }
  body { padding: 0; max-width: none; font-size: 8.2pt; line-height: 1.25 }
  h1 { font-size: 14pt }
  .bar { display: none }
  .line { grid-template-columns: 1.4rem 26mm minmax(0, 1fr); padding: 1.2mm 0 }
  .line small, .soft, .none { font-size: 7.5pt }
  .none { min-height: 10mm }
  .name { font-size: 10pt }
  .place { font-size: 12pt }
  .safety { margin-top: 2mm; padding: 1.5mm 2mm; font-size: 7.5pt }
  .few { font-size: 10pt; line-height: 1.35 }
  .few .line { grid-template-columns: 1.8rem 52mm minmax(0, 1fr); padding: 3mm 0 }
  .few .line small, .few .soft, .few .none { font-size: 8.5pt }
  .few .name { font-size: 13pt }
  .few .safety { font-size: 8.5pt }
  .many { font-size: 7.6pt; line-height: 1.2 }
  .many:not(.pictured) .picture { display: none }
  .many .line { grid-template-columns: 1.4rem minmax(0, 1fr); padding: 0.3mm 0 }
  .many.pictured .line { grid-template-columns: 1.4rem 26mm minmax(0, 1fr); padding: 0.8mm 0 }
  .many .line small, .many .soft, .many .safety { font-size: 7pt }
  .many .told > p { display: inline; margin-right: 0.5rem }
  .many .cells { grid-template-columns: minmax(0, 2fr) minmax(0, 3fr) }
  .many .cells p { display: inline }
  .many .cells p:not(:last-child)::after { content: "; " }
  .many .safety { margin-top: 1mm; padding: 1mm 1.5mm }
  .many .safety li { margin: 0 }
}
`
