/** What is said when the service cannot be reached or answers oddly. */
export const failureWords = {
  noAnswer: {
    what: 'Hooftally does not answer.',
    remedy: 'See that the machine that runs it is on and that this phone is on the same network.',
  },
  odd: {
    what: 'Something went wrong in this page.',
    remedy: 'Load the page again. If it stays, look at Set-up, Health.',
  },
  status: (status: number) => ({
    what: `Hooftally answered with an error (${status}).`,
    remedy: 'Try again. If it stays, look at Set-up, Health.',
  }),
  tryAgain: 'Try again',
  stale: 'This is from earlier; the last try failed.',
} as const
