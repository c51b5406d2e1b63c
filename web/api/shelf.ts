/** A list that outlives the page: kept in this browser (IndexedDB), or in memory where it keeps nothing. */

export interface Shelved<T> {
  readonly key: number
  readonly value: T
}

export interface Shelf<T> {
  /** In the order they were put up. */
  all(): Promise<readonly Shelved<T>[]>
  /** Resolves with its key once it is kept. */
  put(value: T): Promise<number>
  remove(key: number): Promise<void>
  /** Whether it outlives the page. */
  lasts(): boolean
}

const VERSION = 1
/** A database is never given another shelf: an older page that has it open would hold up the change of version. */
const SHELVES = {
  words: 'hooftally',
  steps: 'hooftally',
  yard: 'hooftally-yard',
  'yard refused': 'hooftally-yard',
} as const
export type ShelfName = keyof typeof SHELVES

export function shelfInMemory<T>(): Shelf<T> {
  const values = new Map<number, T>()
  let last = 0
  return {
    all: async () => [...values].map(([key, value]) => ({ key, value })),
    put: async (value) => {
      last += 1
      values.set(last, value)
      return last
    },
    remove: async (key) => {
      values.delete(key)
    },
    lasts: () => false,
  }
}

const databases = new Map<string, Promise<IDBDatabase>>()

function databaseOf(shelf: ShelfName): Promise<IDBDatabase> {
  const name = SHELVES[shelf]
  const known = databases.get(name)
  if (known !== undefined) return known
  const database = new Promise<IDBDatabase>((resolve, reject) => {
    const opening = indexedDB.open(name, VERSION)
    opening.onupgradeneeded = () => {
      for (const [one, there] of Object.entries(SHELVES)) {
        if (there === name) opening.result.createObjectStore(one, { autoIncrement: true })
      }
    }
    opening.onsuccess = () => resolve(opening.result)
    opening.onerror = () => reject(opening.error)
    opening.onblocked = () => reject(new Error('another page holds an older database open'))
  })
  databases.set(name, database)
  return database
}

/** The shelf of that name; in memory from the moment on when the browser refuses to keep anything. */
export function openShelf<T>(name: ShelfName): Shelf<T> {
  const spare = shelfInMemory<T>()
  let lasts = typeof indexedDB !== 'undefined'

  async function ask<R>(mode: IDBTransactionMode, act: (store: IDBObjectStore) => IDBRequest<R>): Promise<R> {
    const db = await databaseOf(name)
    return await new Promise<R>((resolve, reject) => {
      // Kept when the transaction is, not when the request went well.
      const transaction = db.transaction(name, mode)
      const request = act(transaction.objectStore(name))
      // At once: a page that is left the next moment would take an open transaction with it.
      transaction.commit()
      transaction.oncomplete = () => resolve(request.result)
      transaction.onerror = () => reject(transaction.error)
      transaction.onabort = () => reject(transaction.error)
    })
  }

  async function orSpare<R>(kept: () => Promise<R>, other: () => Promise<R>): Promise<R> {
    if (!lasts) return await other()
    try {
      return await kept()
    } catch {
      lasts = false
      return await other()
    }
  }

  return {
    all: () =>
      orSpare(async () => {
        const [keys, values] = await Promise.all([
          ask('readonly', (store) => store.getAllKeys()),
          ask('readonly', (store) => store.getAll() as IDBRequest<T[]>),
        ])
        return keys.map((key, index) => ({ key: Number(key), value: values[index]! }))
      }, spare.all),
    put: (value) =>
      orSpare(
        async () => Number(await ask('readwrite', (store) => store.add(value))),
        () => spare.put(value),
      ),
    remove: (key) =>
      orSpare(
        async () => {
          await ask('readwrite', (store) => store.delete(key))
        },
        () => spare.remove(key),
      ),
    lasts: () => lasts,
  }
}
