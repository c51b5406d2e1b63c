/** Mailboxes between the ledger and the API, which never tells a password. */
import type { z } from 'zod'
import type { TriedMailbox } from '../mail/try-mailbox.ts'
import { toStationTime } from '../station-time.ts'
import { listCameras } from '../store/cameras.ts'
import { readMailsLeft } from '../store/mail-progress.ts'
import { listMailRules, type MailboxRow, type MailboxSettings } from '../store/mailboxes.ts'
import type { Ledger } from '../store/open.ts'
import type { Zone } from '../words.ts'
import { stationTime } from './answers.ts'
import type { wholeMailboxDoor } from './mail-doors.ts'
import type { Mailbox, MailboxTry } from './mail-shapes.ts'
import { takenPhotoOf } from './taken-photo.ts'

const MAILS_SHOWN = 20

type SaidSettings = z.output<typeof wholeMailboxDoor>

/** As the API says them; with the password, so not to be answered. */
export function saidSettings(row: MailboxSettings): SaidSettings {
  return {
    name: row.name,
    host: row.host,
    port: row.port,
    security: row.security,
    plainByOwner: row.plain_by_owner,
    certificateSha256: row.certificate_sha256,
    userName: row.user_name,
    password: row.password,
    folder: row.folder,
    afterTaking: row.after_taking,
    fileTo: row.file_to,
    pollMinutes: row.poll_minutes,
    isOn: row.is_on,
  }
}

export function settingsSaid(said: SaidSettings): MailboxSettings {
  return {
    name: said.name,
    host: said.host,
    port: said.port,
    security: said.security,
    plain_by_owner: said.plainByOwner,
    certificate_sha256: said.certificateSha256,
    user_name: said.userName,
    password: said.password,
    folder: said.folder,
    after_taking: said.afterTaking,
    file_to: said.fileTo,
    poll_minutes: said.pollMinutes,
    is_on: said.isOn,
  }
}

export async function mailboxOf(ledger: Ledger, row: MailboxRow, zone: Zone): Promise<Mailbox> {
  const names = await cameraNames(ledger)
  const left = await readMailsLeft(ledger, row.id, MAILS_SHOWN)
  const at = (date: Date | null) => date && stationTime(date, zone)
  const { password: _never, ...settings } = saidSettings(row)
  return {
    id: row.id,
    ...settings,
    rules: (await listMailRules(ledger, row.id)).map(({ camera_id, kind, words }) => {
      return { cameraId: camera_id, cameraName: names.get(camera_id) ?? '', kind, words }
    }),
    lastTryAt: at(row.last_try_at),
    lastOkAt: at(row.last_ok_at),
    lastReason: row.last_reason,
    mails: row.mails,
    photos: row.photos,
    left: {
      count: left.count,
      latest: left.latest.map((mail) => {
        const { sender, subject, reason, again } = mail
        return { sender, subject, at: at(mail.at), reason, again }
      }),
    },
  }
}

export async function mailboxTryOf(ledger: Ledger, tried: TriedMailbox, zone: Zone): Promise<MailboxTry> {
  const names = await cameraNames(ledger)
  return {
    fault: tried.fault,
    mails: tried.mails,
    latest: tried.latest.map(({ at, stills, cameraId, ...mail }) => ({
      ...mail,
      at: at === null ? null : toStationTime(at, zone),
      cameraId,
      cameraName: cameraId === null ? null : (names.get(cameraId) ?? null),
      stills: stills.map((still) => takenPhotoOf(still, zone)),
    })),
  }
}

async function cameraNames(ledger: Ledger): Promise<ReadonlyMap<number, string>> {
  return new Map((await listCameras(ledger)).map(({ id, name }) => [id, name]))
}
