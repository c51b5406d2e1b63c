/** Sheets for the yard, for neighbours and for the truck: one A4 page each. */
import { useLocation, useRoute } from 'preact-iso'
import { withQuery } from '../api/questions.ts'
import { useYardForm } from '../api/yard-form.ts'
import { Choice } from '../parts/field.tsx'
import { EmptyNotice, FailedNotice, Skeleton } from '../parts/notice.tsx'
import { Screen } from '../parts/screen.tsx'
import { sheetWords as words } from '../text/sheets.ts'
import { shellWords } from '../text/shell.ts'
import { NoticeSheet } from './sheets/notice.tsx'
import { TakeSheet } from './sheets/take.tsx'
import { YardSheet } from './sheets/yard.tsx'

export function SheetScreen() {
  const { params } = useRoute()
  const kind = params.kind
  const tools = (
    <div class="button-row sheet-tools">
      <button type="button" class="button button-strong" onClick={() => print()}>
        {words.print}
      </button>
    </div>
  )
  if (kind !== 'yard' && kind !== 'notice' && kind !== 'take')
    return (
      <Screen title={shellWords.product} kind="missing">
        <EmptyNotice words={shellWords.notFound} href="/" />
      </Screen>
    )
  return (
    <Screen title={words[kind].title} kind="sheet" aside={tools} back={{ href: '/yard', words: words.back }}>
      {kind === 'yard' ? <YardSheet /> : <ProgramSheet kind={kind} />}
    </Screen>
  )
}

function ProgramSheet({ kind }: { readonly kind: 'notice' | 'take' }) {
  const { query } = useRoute()
  const { route } = useLocation()
  const { answer, failure, reload } = useYardForm()
  if (answer === null)
    return failure === null ? (
      <Skeleton shape="row" count={3} />
    ) : (
      <FailedNotice failure={failure} again={reload} />
    )
  const program = answer.programs.find(({ id }) => String(id) === query.program) ?? null
  return (
    <>
      <div class="sheet-tools">
        <Choice
          label={words.program}
          name="program"
          value={program === null ? '' : String(program.id)}
          choices={[
            { value: '', words: words.noProgram },
            ...answer.programs.map(({ id, name }) => ({ value: String(id), words: name })),
          ]}
          change={(id) => route(withQuery(`/sheets/${kind}`, { program: id }), true)}
        />
      </div>
      {kind === 'notice' ? (
        <NoticeSheet form={answer} program={program} key={program?.id} />
      ) : (
        <TakeSheet program={program} key={program?.id} />
      )}
    </>
  )
}
