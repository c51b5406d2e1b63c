/** What waits on this phone, as a screen sees it. */
import { useEffect, useState } from 'preact/hooks'
import { hearYard, hearYardTaken, yardNotTaken, yardOut, yardWaiting } from '../../api/yard-out.ts'

export function useYardOut() {
  const [, draw] = useState(0)
  useEffect(() => hearYard(() => draw((turn) => turn + 1)), [])
  return { ...yardOut(), entries: yardWaiting(), notTaken: yardNotTaken() }
}

/** Asks again once the service has written something down. */
export function useReloadOnTaken(reload: () => void): void {
  useEffect(() => hearYardTaken(() => reload()), [reload])
}
