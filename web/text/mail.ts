/** Words of photos that come by mail. */
import type { Mailbox } from '../../services/http/mail-shapes.ts'
import { plural } from './counts.ts'
import { dayAndClock } from './times.ts'
import type { Fact } from './water-run.ts'

export const mailWords = {
  byMail: 'By mail',
  hint: 'For cameras that send their photos by mail. Use a mailbox that is for the cameras alone: everything in it is looked at.',
  none: {
    what: 'No mailbox yet.',
    remedy: 'Add the one that your cameras send their photos to.',
  },
  needCamera: { what: 'A photo belongs to a camera.', remedy: 'Add a camera first.' },
  add: 'Add a mailbox',
  changeOne: (name: string) => `Change the mailbox ${name}`,
  name: 'Name',
  nameHint: 'For you to know it by.',
  host: 'Mail server',
  hostHint: 'As your provider names it for IMAP, such as imap.example.org.',
  security: 'Encryption',
  securities: {
    tls: 'TLS (usual, port 993)',
    starttls: 'STARTTLS (port 143)',
    none: 'None',
  },
  port: 'Port',
  portHint: 'Empty for the usual one.',
  plain: 'I want it without encryption: anybody on the way can read the password and the photos',
  certificate: 'The one certificate to trust (SHA-256)',
  certificateHint: 'Only for a server of your own with a certificate of its own making.',
  user: 'User name',
  password: 'Password',
  passwordHint: 'Many providers want one made for one program (an app password).',
  passwordKept: 'Empty for the one that is kept.',
  folder: 'Folder',
  folderHint: 'INBOX is where mail arrives.',
  after: 'A mail whose photos are in',
  afters: {
    flag: 'is flagged and marked as read',
    file: 'is filed into a folder',
    delete: 'is deleted',
  },
  fileTo: 'File it into',
  fileToHint: 'The folder is made if it is not there.',
  poll: 'Look every so many minutes',
  pollHint: 'New mail is taken at once where the server tells of it.',
  isOn: 'Read this mailbox',
  rules: 'Whose mails are whose',
  rulesHint:
    'A line for each camera. An address counts before words in the subject, and those before the sender.',
  rule: (place: number) => `Line ${place}`,
  ruleCamera: 'Camera',
  ruleKind: 'Known by',
  ruleKinds: {
    tag: 'the address it is sent to',
    subject: 'words in the subject',
    sender: 'the sender',
  },
  ruleWords: {
    tag: 'What stands after the +, or a whole address',
    subject: 'The words',
    sender: 'The sender’s address',
  },
  addRule: 'Add a line',
  removeRule: (place: number) => `Take line ${place} out`,
  save: 'Save the mailbox',
  tryNow: 'Try it now',
  tryOf: (name: string) => `Try the mailbox ${name} now`,
  trying: 'Asking the mail server …',
  tried: (mails: number) =>
    mails === 0
      ? 'It let us in; there is no mail in the folder.'
      : `It let us in; ${plural(mails, 'mail')} in the folder. The last:`,
  notTaken: 'Its photos come in by themselves.',
  noSubject: '(no subject)',
  remove: 'Take it out',
  removeOf: (name: string) => `Take the mailbox ${name} out`,
  removeWarns: 'It is not read any more. Its photos stay, and so do the mails on the server. Take it out?',
  removeYes: 'Yes, take it out',
  leftTitle: 'Mails left as they came',
  moreLeft: (count: number) => `and ${count.toLocaleString('en-AU')} more`,
} as const

export function mailboxFact({ isOn, lastReason, lastOkAt, lastTryAt }: Mailbox): Fact {
  if (!isOn) return { tone: 'unknown', words: 'Not read' }
  if (lastReason !== null && lastOkAt === lastTryAt) return { tone: 'look', words: 'Read, with a fault' }
  if (lastReason !== null) return { tone: 'alarm', words: 'Can’t be read' }
  if (lastOkAt === null) return { tone: 'unknown', words: 'Not read yet' }
  return { tone: 'well', words: `Read ${dayAndClock(lastOkAt)}` }
}

/** `12 photos out of 9 mails` */
export function broughtLine({ photos, mails }: Pick<Mailbox, 'photos' | 'mails'>): string {
  return mails === 0 ? 'No photo yet' : `${plural(photos, 'photo')} out of ${plural(mails, 'mail')}`
}

export function whereLine({ userName, host, folder }: Mailbox): string {
  return `${userName} at ${host}, ${folder}`
}

/** `Tue 24 Nov, 21:40, fits no camera` */
export function leftLine({ at, reason, again }: Mailbox['left']['latest'][number]): string {
  const soon = again === 'soon' ? '; tried again by itself' : ''
  return `${at === null ? '' : `${dayAndClock(at)}, `}${reason}${soon}`
}

/** `By mail to Camera mail, known by the address: kite` */
export function ruleLine({ name }: Mailbox, { kind, words: said }: Mailbox['rules'][number]): string {
  const by = { tag: 'the address', subject: 'words in the subject', sender: 'the sender' }[kind]
  return `By mail to ${name}, known by ${by}: ${said}`
}
