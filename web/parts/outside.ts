/** A value that lives outside components and says when it changed. */
import { useEffect, useState } from 'preact/hooks'

/** The value of `read`, again after every change that `subscribe` tells of. `read` gives a primitive. */
export function useOutside<T>(subscribe: (listener: () => void) => () => void, read: () => T): T {
  const [value, setValue] = useState(read)
  useEffect(() => {
    const refresh = () => setValue(read)
    refresh()
    return subscribe(refresh)
  }, [subscribe])
  return value
}
