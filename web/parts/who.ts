/** Who says things on this device: typed once, remembered here. */
import { useState } from 'preact/hooks'
import { remember, remembered } from './memory.ts'

const KEY = 'who'
/** As the service takes a word from nobody in particular. */
const NOBODY = 'station'

export const whoSays = (): string => remembered(KEY)?.trim() || NOBODY

export function useWho(): readonly [who: string, change: (who: string) => void] {
  const [who, setWho] = useState(remembered(KEY) ?? '')
  const change = (typed: string) => {
    remember(KEY, typed)
    setWho(typed)
  }
  return [who, change]
}
