/** The frame round every screen: head, tabs, and which screen the address opens. */

import { useEffect, useRef } from 'preact/hooks'
import { LocationProvider, Route, Router, useLocation } from 'preact-iso'
import { stationQuestion } from './api/questions.ts'
import { useAnswer } from './api/use-answer.ts'
import { Icon, type IconName } from './parts/icon.tsx'
import { EmptyNotice, FailedNotice, Skeleton } from './parts/notice.tsx'
import { Screen } from './parts/screen.tsx'
import { ThemeButton } from './parts/theme.tsx'
import { BlindLookScreen } from './screens/blind-look.tsx'
import { CamerasScreen } from './screens/cameras.tsx'
import { CardScreen } from './screens/card.tsx'
import { CheckScreen } from './screens/check.tsx'
import { HowRightScreen } from './screens/how-right.tsx'
import { MusterScreen } from './screens/muster.tsx'
import { PhotoScreen } from './screens/photo.tsx'
import { PhotosScreen } from './screens/photos.tsx'
import { PointScreen } from './screens/point.tsx'
import { PressureScreen } from './screens/pressure.tsx'
import { ProgramScreen } from './screens/program.tsx'
import { ProgramsScreen } from './screens/programs.tsx'
import { SetupScreen } from './screens/setup.tsx'
import { SheetScreen } from './screens/sheets.tsx'
import { TrapYardsScreen } from './screens/trap-yards.tsx'
import { WaterRunScreen } from './screens/water-run.tsx'
import { YardScreen } from './screens/yard.tsx'
import { YardPlanScreen } from './screens/yard-plan.tsx'
import { shellWords } from './text/shell.ts'

const TABS: readonly { href: string; words: string; icon: IconName; under: RegExp }[] = [
  { href: '/', words: shellWords.tabs.waterRun, icon: 'run', under: /^\/((points|yard|sheets).*)?$/ },
  { href: '/check', words: shellWords.tabs.check, icon: 'check', under: /^\/check/ },
  { href: '/pressure', words: shellWords.tabs.pressure, icon: 'pressure', under: /^\/pressure/ },
  { href: '/trap-yards', words: shellWords.tabs.yards, icon: 'trap', under: /^\/trap-yards/ },
  { href: '/programs', words: shellWords.tabs.programs, icon: 'programs', under: /^\/(programs|muster)/ },
  {
    href: '/setup',
    words: shellWords.tabs.setup,
    icon: 'setup',
    under: /^\/(setup|card|cameras|blind-look|how-right)/,
  },
]

/** What the view draws itself; a sheet or a shared list is a page of the service's own. */
const OF_THE_VIEW = /^\/(?!api\/|shared\/)/

export function App() {
  return (
    <LocationProvider scope={OF_THE_VIEW}>
      <Frame />
    </LocationProvider>
  )
}

function Frame() {
  const { path, route } = useLocation()
  const { answer, failure, reload } = useAnswer(stationQuestion)
  const empty = answer !== null && answer.station === null
  useFocusOnArrival(path)
  useEffect(() => {
    // A station that is not set up yet has nothing else to show.
    if (empty && path !== '/setup') route('/setup', true)
  }, [empty, path, route])
  return (
    <div class="frame">
      <a class="skip" href="#page">
        {shellWords.skip}
      </a>
      <header class="top">
        <a class="product" href="/">
          <img src="/mark.svg" alt="" width="32" height="32" />
          <span>{answer?.station?.name ?? shellWords.product}</span>
        </a>
        <ThemeButton />
      </header>
      <nav class="tabs" aria-label={shellWords.navigation}>
        {TABS.map((tab) => (
          <a href={tab.href} key={tab.href} aria-current={tab.under.test(path) ? 'page' : undefined}>
            <Icon name={tab.icon} />
            <span>{tab.words}</span>
          </a>
        ))}
      </nav>
      <main id="page">
        {answer === null && failure !== null && (
          <Screen title={shellWords.product} kind="failed">
            <FailedNotice failure={failure} again={reload} />
          </Screen>
        )}
        {answer === null && failure === null && (
          <Screen title={shellWords.product} kind="loading">
            <Skeleton shape="row" count={4} />
          </Screen>
        )}
        {answer !== null && (
          <Router>
            <Route path="/" component={WaterRunScreen} />
            <Route path="/points/:id" component={PointScreen} />
            <Route path="/photos" component={PhotosScreen} />
            <Route path="/photos/:id" component={PhotoScreen} />
            <Route path="/check" component={CheckScreen} />
            <Route path="/cameras" component={CamerasScreen} />
            <Route path="/blind-look" component={BlindLookScreen} />
            <Route path="/how-right" component={HowRightScreen} />
            <Route path="/pressure" component={PressureScreen} />
            <Route path="/programs" component={ProgramsScreen} />
            <Route path="/programs/:id/:part?" component={ProgramScreen} />
            <Route path="/muster" component={MusterScreen} />
            <Route path="/trap-yards" component={TrapYardsScreen} />
            <Route path="/trap-yards/plans/:id" component={YardPlanScreen} />
            <Route path="/card" component={CardScreen} />
            <Route path="/yard" component={YardScreen} />
            <Route path="/sheets/:kind" component={SheetScreen} />
            <Route path="/setup" component={SetupScreen} changed={reload} />
            <Route default component={NoSuchPage} />
          </Router>
        )}
        {answer?.station?.demo === true && <p class="demo-line">{shellWords.demo}</p>}
      </main>
    </div>
  )
}

function NoSuchPage() {
  return (
    <Screen title={shellWords.product} kind="missing">
      <EmptyNotice words={shellWords.notFound} href="/" />
    </Screen>
  )
}

/** Puts keyboard and screen reader on the new screen's heading, but leaves the first one alone. */
function useFocusOnArrival(path: string): void {
  const before = useRef(path)
  useEffect(() => {
    if (before.current === path) return
    before.current = path
    document.querySelector<HTMLElement>('main h1')?.focus({ preventScroll: true })
  }, [path])
}
