/** Words of cameras: where they stood, how they are. */

export const cameraTimesWords = {
  title: 'When it stood where',
  hint: 'Photos and watched time go to the point where the camera stood. Changed later, everything in between is worked out again.',
  time: (number: number) => `Time ${number}`,
  point: 'At',
  putUp: 'Put up on',
  putUpHint: 'Empty where that is not known.',
  takenDown: 'Taken down on',
  takenDownHint: 'Empty while it stands there.',
  at: 'At (clock time)',
  again: 'It was put up again',
  save: 'Save when it stood where',
  isDown: 'Taken down',
} as const
