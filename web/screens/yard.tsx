/** At the yard: what is done there and what is taken, entered on a phone, with a link or without one. */
import { useRoute } from 'preact-iso'
import { useYardForm } from '../api/yard-form.ts'
import { EmptyNotice, FailedNotice, Skeleton } from '../parts/notice.tsx'
import { Screen } from '../parts/screen.tsx'
import { yardWords as words } from '../text/yard.ts'
import { Desk } from './yard/desk.tsx'
import { SheetLinks } from './yard/sheet-links.tsx'
import { YardWaiting } from './yard/waiting.tsx'

export function YardScreen() {
  const { query } = useRoute()
  const { answer, failure, old, reload } = useYardForm()
  const idOf = (text: string | undefined) => (text === undefined ? null : Number(text))
  return (
    <Screen title={words.title} kind="yard">
      {answer === null && failure === null && <Skeleton shape="row" count={3} />}
      {answer === null && failure !== null && (
        <>
          <FailedNotice failure={failure} again={reload} />
          <YardWaiting />
        </>
      )}
      {answer !== null && old && <p class="stale">{words.offline}</p>}
      {answer?.points.length === 0 && <EmptyNotice words={words.noPoints} href="/setup#points" />}
      {answer !== null && answer.points.length > 0 && (
        <Desk form={answer} asked={{ point: idOf(query.point), program: idOf(query.program) }} />
      )}
      <SheetLinks programId={idOf(query.program)} />
    </Screen>
  )
}
