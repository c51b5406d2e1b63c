/** A chart, drawn by a library that is loaded only once a chart is shown; its words stand beside it for everybody. */
import type * as Plot from '@observablehq/plot'
import type { ComponentChildren } from 'preact'
import { useEffect, useRef } from 'preact/hooks'

interface ChartProps {
  /** What a screen reader is told in place of the picture. */
  readonly label: string
  /** Makes the chart for a width in px; another function draws it anew, so keep it between renders. */
  readonly draw: (plot: typeof Plot, width: number) => Plot.PlotOptions
  readonly children?: ComponentChildren
}

const MOST_WIDTH = 720
const HEIGHT = 220

export function Chart({ label, draw, children }: ChartProps) {
  const place = useRef<HTMLDivElement>(null)
  useEffect(() => {
    let gone = false
    import('@observablehq/plot').then((plot) => {
      const box = place.current
      if (gone || box === null) return
      const width = Math.min(MOST_WIDTH, box.clientWidth)
      // Colours and letters are those of the page, by day and by night.
      const style = { background: 'none', color: 'currentColor', fontFamily: 'inherit', fontSize: '13px' }
      box.replaceChildren(plot.plot({ width, height: HEIGHT, style, ...draw(plot, width) }))
    })
    return () => {
      gone = true
    }
  }, [draw])
  return (
    <figure class="chart">
      <div class="chart-place" ref={place} role="img" aria-label={label} />
      {children !== undefined && <figcaption>{children}</figcaption>}
    </figure>
  )
}
