/** What each section of a program's page is given. */
import type { Program } from '../../../services/http/program-shapes.ts'

export interface SectionProps {
  readonly program: Program
  /** Something was said of the program itself: its head asks again. */
  readonly changed: () => void
}
