/** A fact as a chip: tone by colour, icon and word together; a link where it opens the photos behind it. */
import type { Fact } from '../text/water-run.ts'
import { Icon, type IconName } from './icon.tsx'

interface FactProps {
  readonly fact: Fact
  readonly icon: IconName
  readonly href?: string
}

export function FactChip({ fact, icon, href }: FactProps) {
  const inside = (
    <>
      <Icon name={icon} />
      <span>{fact.words}</span>
    </>
  )
  const look = `fact fact-${fact.tone}`
  return href === undefined ? (
    <span class={look}>{inside}</span>
  ) : (
    <a class={`${look} fact-link`} href={href}>
      {inside}
    </a>
  )
}
