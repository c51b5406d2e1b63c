/** Learns in a thread of its own, and ends: what `learnApart` starts. */
import { constants, setPriority } from 'node:os'
import { parentPort, workerData } from 'node:worker_threads'
import { ask, type Question } from '../../services/learning/asking.ts'

// Photos come first. On Linux this is the thread's own priority (setpriority(2), C library/kernel differences).
setPriority(constants.priority.PRIORITY_BELOW_NORMAL)
parentPort?.postMessage(ask(workerData as Question))
