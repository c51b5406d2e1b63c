/** What is kept on this phone and not sent yet, and what the station did not take. */
import type { YardEntry } from '../../api/yard-entries.ts'
import { forgetNotTaken, type NotTaken, sendYardNow } from '../../api/yard-out.ts'
import { AskTwice } from '../../parts/ask-twice.tsx'
import { Icon } from '../../parts/icon.tsx'
import { jobEntryWords } from '../../text/jobs.ts'
import { takenWords, trapEntryWords, yardWords as words } from '../../text/yard.ts'
import { useYardOut } from './use-yard-out.ts'

/** An entry in a line. */
export function entryWords(entry: YardEntry): string {
  if (entry.to === 'jobs' || entry.to === 'job') return jobEntryWords(entry)
  const [word] = entry.body.words
  if (word === undefined || word.kind === 'withdrawn') return words.takeBack
  return word.kind === 'taken' ? takenWords(word) : trapEntryWords(word)
}

/** Whether it can be typed again: what takes back, and words on jobs, are said anew. */
export function canBePutRight(entry: YardEntry): boolean {
  return (
    (entry.to === 'outcomes' || entry.to === 'trap log') &&
    entry.body.words.every(({ kind }) => kind !== 'withdrawn')
  )
}

export function YardWaiting({ putRight }: { readonly putRight?: (one: NotTaken) => void }) {
  const { waiting, failure, lasts, notTaken } = useYardOut()
  return (
    <>
      {waiting > 0 && (failure !== null || !lasts) && (
        <div class="notice notice-waiting" role="status">
          <Icon name="link" />
          <div>
            <p class="notice-what">{words.waiting(waiting)}</p>
            <p>{lasts ? words.waitingKept : words.waitingOpen}</p>
            <button type="button" class="button" onClick={sendYardNow}>
              {words.sendNow}
            </button>
          </div>
        </div>
      )}
      {notTaken.length > 0 && (
        <section class="notice notice-failed not-taken" aria-labelledby="not-taken">
          <Icon name="alarm" />
          <div>
            <h2 id="not-taken">{words.notTaken}</h2>
            <p>{words.notTakenHint}</p>
            <ul class="plain-list">
              {notTaken.map((one) => (
                <li key={one.key}>
                  <p class="notice-what">{entryWords(one.entry)}</p>
                  <p>
                    {one.why.what} {one.why.remedy}
                  </p>
                  <div class="button-row">
                    {putRight !== undefined && canBePutRight(one.entry) && (
                      <button type="button" class="button" onClick={() => putRight(one)}>
                        {words.putRight}
                      </button>
                    )}
                    <AskTwice
                      words={words.throwAway}
                      sure={words.throwAwaySure}
                      leave={words.keepIt}
                      act={() => void forgetNotTaken(one.key)}
                    />
                  </div>
                </li>
              ))}
            </ul>
          </div>
        </section>
      )}
    </>
  )
}
