/** Chromium for the screen tests: the one on the machine, else the one the npm package carries. */
import { existsSync } from 'node:fs'
import { type Browser, type Page, chromium as playwright } from 'playwright-core'

const ON_THE_MACHINE = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome']

/** Our own arguments: the package's break contexts and web security. Nothing may call out by itself. */
const ARGS = [
  '--headless=shell',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-default-apps',
  '--disable-domain-reliability',
  '--disable-sync',
  '--disable-features=OptimizationHints,MediaRouter,Translate',
  '--no-first-run',
  '--no-pings',
  '--mute-audio',
]

async function packagedChromium(): Promise<string> {
  // Read when the package is loaded: it brings the shared libraries that a bare machine lacks.
  process.env.AWS_LAMBDA_JS_RUNTIME ??= 'nodejs22.x'
  const { default: packaged } = await import('@sparticuz/chromium')
  return packaged.executablePath()
}

export type Opened = { readonly browser: Browser } | { readonly why: string }

/** A running browser, or the reason why this machine has none. */
export async function openBrowser(): Promise<Opened> {
  const reasons: string[] = []
  const found = ON_THE_MACHINE.filter((path) => existsSync(path)).map((path) => async () => path)
  for (const pathOf of [...found, packagedChromium]) {
    try {
      const executablePath = await pathOf()
      return { browser: await playwright.launch({ executablePath, args: ARGS, headless: true }) }
    } catch (thrown) {
      reasons.push(thrown instanceof Error ? (thrown.message.split('\n')[0] ?? '') : String(thrown))
    }
  }
  return { why: `no Chromium starts here: ${reasons.join('; ')}` }
}

export interface ScreenSize {
  readonly width: number
  readonly scheme?: 'light' | 'dark'
  /** True where a test is about what the browser keeps; else nothing comes between the page and the service. */
  readonly keeps?: boolean
}

const HEIGHT_PX = 844
const PHONE_MOST_PX = 600

/** A page as on a phone or a desk, in a context of its own: nothing is remembered from the one before. */
export async function openPage(
  browser: Browser,
  { width, scheme = 'light', keeps = false }: ScreenSize,
): Promise<Page> {
  const context = await browser.newContext({
    viewport: { width, height: HEIGHT_PX },
    isMobile: width <= PHONE_MOST_PX,
    hasTouch: width <= PHONE_MOST_PX,
    colorScheme: scheme,
    reducedMotion: 'reduce',
    serviceWorkers: keeps ? 'allow' : 'block',
    // A zone far from the station's: its clock must not show anywhere.
    timezoneId: 'America/Bogota',
  })
  const page = await context.newPage()
  page.setDefaultTimeout(20_000)
  return page
}
