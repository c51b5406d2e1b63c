/** The header a machine that looks at photos carries its key in. */
export const WORKER_KEY_HEADER = 'X-Worker-Key'
/** The SHA-256 of the bytes a worker asked for, in lower-case hexadecimal digits. */
export const HASH_HEADER = 'X-Still-SHA256'
/** `yes` where the photo is to be searched in tiles as well. */
export const TILES_HEADER = 'X-Still-Tiles'
