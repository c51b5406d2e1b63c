/** Words of how points are reached: the road to each, the kilometres between them, the speed of a round. */
import { plural } from './counts.ts'
import { dayName } from './times.ts'

export const accessFieldWords = {
  title: 'Getting there',
  hint: 'Stands on every target list and stays with the point.',
  fields: {
    road: 'Road',
    gates: 'Gates',
    wetSeason: 'In the wet',
    turnaround: 'Truck turnaround',
  },
  hints: {
    road: 'Sealed, graded, sandy, washouts',
    gates: 'Which are locked, and who has the key',
    wetSeason: 'When it is cut off, and for how long',
    turnaround: 'Room for which truck, and where',
  },
  save: 'Save',
  old: (time: string, who: string) => `Said ${dayName(time)} ${time.slice(0, 4)} by ${who}.`,
} as const

export const trackWords = {
  title: 'Speed and distances',
  lead: 'Kilometres and hours of a round are worked out from these. Where you give a distance it goes before the map.',
  speed: 'Speed on tracks, km/h',
  minutes: 'Minutes at each point',
  usual: 'Common practice, no source; set your own.',
  from: 'From',
  to: 'To',
  km: 'Kilometres',
  homestead: 'Homestead',
  add: 'Save this distance',
  file: 'Distances from a file',
  fileHint: 'CSV with a header line: from, to, km. Places by their names; "homestead" for the homestead.',
  none: 'No distances given yet: every leg is as the crow flies.',
  takeBack: (from: string, to: string) => `Take back the distance ${from} to ${to}`,
  takeBackShort: 'Take back',
  loaded: (count: number) => `Loaded: ${plural(count, 'distance')} are given now.`,
  one: 'One distance',
  saveSpeed: 'Save speed',
  distance: (from: string, to: string, km: number) => `${from} to ${to}: ${Number(km.toFixed(1))} km`,
  showAll: (count: number) => `Show all ${count} distances`,
  fileButton: 'Choose a file',
} as const
