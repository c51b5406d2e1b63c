/** Points from a file: CSV or GeoJSON, as the service reads them. */
import { useState } from 'preact/hooks'
import { tellFile } from '../../api/ask.ts'
import { FileButton } from '../../parts/file-button.tsx'
import { FailedNotice, Spoken } from '../../parts/notice.tsx'
import { useForm } from '../../parts/use-form.ts'
import { setupWords } from '../../text/setup.ts'

const words = setupWords.points

/** What the service takes a points file as; null for a file of another kind. */
export function pointsFileType(fileName: string): 'text/csv' | 'application/geo+json' | null {
  if (/\.(csv|txt)$/i.test(fileName)) return 'text/csv'
  return /\.(geojson|json)$/i.test(fileName) ? 'application/geo+json' : null
}

export function PointsFile({ loaded }: { readonly loaded: () => void }) {
  const form = useForm()
  const [said, setSaid] = useState('')
  const load = async (file: File | undefined) => {
    setSaid('')
    if (file === undefined) return
    const type = pointsFileType(file.name)
    if (type === null) {
      form.fail({ ...words.wrongFile, field: null, status: null })
      return
    }
    await form.submit(async () => {
      const { added, changed } = await tellFile<{ added: number; changed: number }>(
        '/api/points/file',
        type,
        await file.text(),
      )
      setSaid(words.loaded(added, changed))
      loaded()
    })
  }
  return (
    <div class="points-file">
      <h4>{words.file}</h4>
      <p class="hint" id="file-hint">
        {words.fileHint}
      </p>
      <FileButton
        words={words.fileButton}
        accept=".csv,.txt,.geojson,.json"
        describedBy="file-hint"
        sending={form.sending}
        load={load}
      />
      <Spoken words={said} />
      {form.failure !== null && <FailedNotice failure={form.failure} />}
    </div>
  )
}
