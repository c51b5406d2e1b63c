/** Mails as cameras write them (RFC 5322, RFC 2046), built by hand so that each part is known. */

export interface MadeAttachment {
  readonly name: string | null
  readonly type: string
  readonly bytes: Buffer
}

export interface MadeMail {
  readonly from: string
  readonly to: string
  readonly subject: string
  /** RFC 5322, section 3.3: `Tue, 24 Nov 2026 21:30:05 +1030`. */
  readonly date?: string
  readonly headers?: Readonly<Record<string, string>>
  readonly attachments: readonly MadeAttachment[]
}

const BOUNDARY = 'part-of-a-made-mail'

export function makeMail({ from, to, subject, date, headers = {}, attachments }: MadeMail): string {
  const head = {
    ...headers,
    From: from,
    To: to,
    Subject: subject,
    ...(date !== undefined && { Date: date }),
    'MIME-Version': '1.0',
    'Content-Type': `multipart/mixed; boundary="${BOUNDARY}"`,
  }
  const parts = [
    'Content-Type: text/plain; charset=utf-8\r\n\r\nA photo from your camera.',
    ...attachments.map(({ name, type, bytes }) => {
      const named = name === null ? '' : `; filename="${name}"`
      return [
        `Content-Type: ${type}`,
        `Content-Disposition: attachment${named}`,
        'Content-Transfer-Encoding: base64',
        '',
        bytes.toString('base64').replaceAll(/.{76}/g, '$&\r\n'),
      ].join('\r\n')
    }),
  ]
  const lines = Object.entries(head).map(([name, value]) => `${name}: ${value}`)
  return `${lines.join('\r\n')}\r\n\r\n--${BOUNDARY}\r\n${parts.join(`\r\n--${BOUNDARY}\r\n`)}\r\n--${BOUNDARY}--\r\n`
}

export function jpegNamed(name: string, bytes: Buffer): MadeAttachment {
  return { name, type: 'image/jpeg', bytes }
}
