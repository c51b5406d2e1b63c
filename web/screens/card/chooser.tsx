/** Where a card's folder is chosen or dropped. */
import { useId, useState } from 'preact/hooks'
import { cardWords as words } from '../../text/card.ts'
import { type CardFile, chosenFiles, droppedFiles } from './card-files.ts'

interface ChooserProps {
  readonly put: (files: Promise<readonly CardFile[]>) => void
}

export function Chooser({ put }: ChooserProps) {
  const [over, setOver] = useState(false)
  const hint = useId()
  return (
    <fieldset
      class={`card-drop ${over ? 'card-drop-over' : ''}`}
      onDragOver={(event) => {
        event.preventDefault()
        setOver(true)
      }}
      onDragLeave={() => setOver(false)}
      onDrop={(event) => {
        event.preventDefault()
        setOver(false)
        if (event.dataTransfer !== null) put(droppedFiles(event.dataTransfer.items))
      }}
    >
      <legend class="unseen">{words.where}</legend>
      <div class="button-row">
        <FileButton label={words.folder} folder put={put} describedBy={hint} />
        <FileButton label={words.photos} put={put} describedBy={hint} />
      </div>
      <p class="small card-drop-hint" id={hint}>
        {words.drop}
      </p>
    </fieldset>
  )
}

interface FileButtonProps extends ChooserProps {
  readonly label: string
  readonly folder?: boolean
  readonly describedBy: string
}

function FileButton({ label, folder = false, describedBy, put }: FileButtonProps) {
  return (
    <label class={`button file-button ${folder ? 'button-strong' : ''}`}>
      {label}
      <input
        type="file"
        multiple
        {...(folder ? { webkitdirectory: true } : { accept: 'image/jpeg,image/png,image/webp' })}
        aria-describedby={describedBy}
        onChange={(event) => {
          const input = event.currentTarget
          const files = chosenFiles(input.files)
          // Emptied so that the same folder can be chosen again.
          input.value = ''
          if (files.length > 0) put(Promise.resolve(files))
        }}
      />
    </label>
  )
}
