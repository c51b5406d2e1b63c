/** Has a namer learned and tried beside the service, which answers meanwhile. */
import { once } from 'node:events'
import { Worker } from 'node:worker_threads'
import type { Answer, Question } from '../../services/learning/asking.ts'
import { builtFile } from '../../services/paths.ts'

/** Always from the build, as Node.js 20 cannot run TypeScript. @throws when it is aborted, or learning failed */
export async function learnApart(question: Question, signal: AbortSignal): Promise<Answer> {
  signal.throwIfAborted()
  const thread = new Worker(builtFile('worker/learner/thread.js'), { workerData: question })
  const stop = () => void thread.terminate()
  signal.addEventListener('abort', stop, { once: true })
  try {
    // `once` rejects on an error of the thread; one that ends without a word has been stopped.
    const said = await Promise.race([once(thread, 'message'), once(thread, 'exit').then(() => null)])
    signal.throwIfAborted()
    if (said === null) throw new Error('the thread that learned ended without a word')
    return said[0] as Answer
  } finally {
    signal.removeEventListener('abort', stop)
    await thread.terminate()
  }
}
