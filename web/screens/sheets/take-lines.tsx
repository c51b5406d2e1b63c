/** Lines to tick off on paper; on screen each can be changed or left out. */
import { Icon } from '../../parts/icon.tsx'
import { sheetWords } from '../../text/sheets.ts'

const words = sheetWords.take
/** On a phone; where browsers size a field by what is in it, they do. */
const LETTERS_A_ROW = 26

interface TakeLinesProps {
  readonly lines: readonly string[]
  readonly change: (lines: readonly string[]) => void
  /** Back to the usual lines; null while they stand. */
  readonly again: (() => void) | null
}

export function TakeLines({ lines, change, again }: TakeLinesProps) {
  return (
    <>
      <ul class="take-lines">
        {lines.map((line, index) => (
          <li key={index}>
            <span class="take-box" aria-hidden="true" />
            <textarea
              class="sheet-typed"
              rows={Math.max(1, Math.ceil(line.length / LETTERS_A_ROW))}
              aria-label={words.line(index + 1)}
              value={line}
              onInput={(event) =>
                change(lines.map((other, place) => (place === index ? event.currentTarget.value : other)))
              }
            />
            <span class="sheet-printed" aria-hidden="true">
              {line}
            </span>
            <button
              type="button"
              class="button button-square sheet-tools"
              aria-label={words.remove(line)}
              onClick={() => change(lines.filter((_, other) => other !== index))}
            >
              <Icon name="minus" />
            </button>
          </li>
        ))}
      </ul>
      <div class="button-row sheet-tools">
        <button type="button" class="button" onClick={() => change([...lines, ''])}>
          <Icon name="plus" />
          {words.add}
        </button>
        {again !== null && (
          <button type="button" class="button" onClick={again}>
            {words.again}
          </button>
        )}
      </div>
    </>
  )
}
