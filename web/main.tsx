/** Starts the view. */
import { render } from 'preact'
import { keepView } from './api/keep-view.ts'
import { fetchYardFormAhead } from './api/yard-form.ts'
import { App } from './app.tsx'
import { applyKeptTheme } from './parts/theme.tsx'

applyKeptTheme()
const root = document.getElementById('view')
if (root === null) throw new Error('the page has no #view to draw in')
root.replaceChildren()
render(<App />, root)
keepView()
fetchYardFormAhead()
