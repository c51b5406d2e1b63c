/** The words of safety, where a program is planned. */
import { Icon } from '../../parts/icon.tsx'
import { programSafety } from '../../text/safety.ts'

export function ProgramSafety() {
  return (
    <div class="safety safety-calm">
      <Icon name="alarm" />
      <div>
        {programSafety.map((line) => (
          <p key={line}>{line}</p>
        ))}
      </div>
    </div>
  )
}
