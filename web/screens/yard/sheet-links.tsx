/** Ways to the sheets that are printed. */
import { withQuery } from '../../api/questions.ts'
import { sheetWords as words } from '../../text/sheets.ts'

export function SheetLinks({ programId }: { readonly programId: number | null }) {
  const of = (kind: string) => withQuery(`/sheets/${kind}`, { program: programId })
  return (
    <nav class="sheet-links" aria-labelledby="sheet-links">
      <h2 id="sheet-links">{words.links}</h2>
      <div class="button-row">
        <a class="button" href="/sheets/yard">
          {words.yard.link}
        </a>
        <a class="button" href={of('notice')}>
          {words.notice.link}
        </a>
        <a class="button" href={of('take')}>
          {words.take.link}
        </a>
      </div>
    </nav>
  )
}
