/** The style of the printed week: black on white, tables that keep together, A4. */
export const pageStyle = `
@page { size: A4; margin: 12mm }
body { margin: 0 auto; padding: 1rem; max-width: 60rem; background: #fff; color: #000;
  font: 400 10pt/1.35 system-ui, sans-serif; font-variant-numeric: tabular-nums }
h1 { margin: 0; font-size: 16pt }
h2 { margin: 1rem 0 0.2rem; font-size: 12pt; break-after: avoid }
p, ul { margin: 0.2rem 0 }
.hint, footer { font-size: 8.5pt }
footer { margin-top: 1rem; border-top: 1px solid #000 }
table { width: 100%; border-collapse: collapse; break-inside: avoid }
small { font-size: 7.5pt }
th, td { padding: 0.1rem 0.3rem; border: 1px solid #777; font-weight: 400; text-align: left; vertical-align: top }
thead th { font-size: 8.5pt; font-weight: 650 }
.blind { background: repeating-linear-gradient(135deg, #fff 0 4px, #ddd 4px 6px); font-size: 8pt; print-color-adjust: exact }
@media print { body { padding: 0; font-size: 9pt } }
`
