/** The addresses a camera sends to by itself. */
import { waysInWords } from '../../../text/ways-in.ts'

const words = waysInWords.push

export function PushLines() {
  const { origin } = location
  return (
    <div class="push-lines">
      <h5>{words.title}</h5>
      <p class="hint">{words.hint}</p>
      <p>{words.header}</p>
      <pre class="send-line">{`${origin}/api/stills`}</pre>
      <p>{words.link}</p>
      <pre class="send-line">{`${origin}/api/k/KEY/stills`}</pre>
      <p>{words.life}</p>
      <pre class="send-line">{`${origin}/api/k/KEY/heartbeats?batteryPercent=71`}</pre>
    </div>
  )
}
