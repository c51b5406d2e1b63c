/** Light or dark: the phone's own choice until someone taps, then theirs, kept on this phone. */
import { useState } from 'preact/hooks'
import { shellWords } from '../text/shell.ts'
import { Icon } from './icon.tsx'
import { remember, remembered } from './memory.ts'

type Theme = 'light' | 'dark'

function preferred(): Theme {
  const kept = remembered('theme')
  if (kept === 'light' || kept === 'dark') return kept
  return matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'light'
}

/** Puts a kept choice on the page before anything is drawn. */
export function applyKeptTheme(): void {
  const kept = remembered('theme')
  if (kept === 'light' || kept === 'dark') document.documentElement.dataset.theme = kept
}

export function ThemeButton() {
  const [theme, setTheme] = useState<Theme>(preferred)
  const other: Theme = theme === 'dark' ? 'light' : 'dark'
  const words = other === 'dark' ? shellWords.toDark : shellWords.toLight
  const change = () => {
    remember('theme', other)
    document.documentElement.dataset.theme = other
    setTheme(other)
  }
  return (
    <button
      type="button"
      class="button button-bare theme-button"
      onClick={change}
      aria-label={shellWords.themeLabel(words)}
    >
      <Icon name={other === 'dark' ? 'moon' : 'sun'} />
      <span>{words}</span>
    </button>
  )
}
