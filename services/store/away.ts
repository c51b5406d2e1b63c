/** SQLSTATE classes in which the server, not the statement, is at fault (PostgreSQL manual, appendix A). */
const SERVER_CLASSES = ['08', '53', '57', '58', 'XX']
const SOCKET_CODES = ['ECONNREFUSED', 'ECONNRESET', 'EPIPE', 'ETIMEDOUT', 'ENOTFOUND']

/** Whether a fault says that the database is away or in trouble, and the same statement may well go through later. */
export function isLedgerAway(fault: unknown): boolean {
  if (!(fault instanceof Error)) return false
  const code = 'code' in fault && typeof fault.code === 'string' ? fault.code : ''
  if (SOCKET_CODES.includes(code)) return true
  if (/^[0-9A-Z]{5}$/.test(code)) return SERVER_CLASSES.includes(code.slice(0, 2))
  return /connection (terminated|ended)|timeout exceeded when trying to connect|Client has encountered/i.test(
    fault.message,
  )
}
