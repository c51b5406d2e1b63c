/** A button that opens a file of this machine; said to be at work while `sending`. */
interface FileButtonProps {
  readonly words: string
  /** What the file may be called, `.csv,.txt`. */
  readonly accept: string
  /** The id of the words that describe it. */
  readonly describedBy: string
  readonly sending: boolean
  readonly load: (file: File | undefined) => Promise<void>
}

export function FileButton({ words, accept, describedBy, sending, load }: FileButtonProps) {
  return (
    <label class="button file-button">
      {words}
      <input
        type="file"
        accept={accept}
        aria-describedby={describedBy}
        disabled={sending}
        onChange={(event) => {
          const input = event.currentTarget
          // Emptied so that the same file, once put right, can be chosen again.
          load(input.files?.[0]).finally(() => {
            input.value = ''
          })
        }}
      />
    </label>
  )
}
