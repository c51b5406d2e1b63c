/** Words of the limits of what is taken. */
export const limitsWords = {
  hint: 'So that a camera that runs wild does not fill the disk. Nothing is lost: over a limit a sender is told to wait, and what is fetched waits where it is.',
  bytes: 'Largest photo (MB)',
  pixels: 'Largest photo (megapixels)',
  minute: 'Photos of one camera in a minute',
  day: 'Photos of one camera in a day',
  none: 'Empty: as many as come.',
  save: 'Save the limits',
} as const
