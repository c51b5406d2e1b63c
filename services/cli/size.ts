/** `hooftally size`: how many workers and how much disk a set-up needs. */
import { readSizeConfig } from '../config/commands.ts'
import { FULLEST, sizeOf } from '../planning/size.ts'
import { sayLine } from './say.ts'

const HELP = `hooftally size --cameras N --photos-a-day N --photo-kb N --rate R [--busiest-hour P]: workers and disk for a set-up

  --cameras N        cameras
  --photos-a-day N   photos of one camera on a busy day
  --photo-kb N       mean size of a photo, in kilobytes (1,000 bytes)
  --rate R           photos a second that one worker looks at: the pipeline line of npm run bench -- pipeline there
  --busiest-hour P   per cent of a day's photos that come in its busiest hour (10)
`

export async function runSize(args: readonly string[]): Promise<number> {
  if (args.includes('--help')) {
    process.stdout.write(HELP)
    return 0
  }
  const { load, rates } = readSizeConfig(args)
  const size = sizeOf(load, rates)
  const gigabytes = (bytes: number) => `${(bytes / 1e9).toFixed(1)} GB`
  sayLine(`photos a day                 ${Math.round(size.photosADay)}`)
  sayLine(`in the busiest hour          ${size.busiestHourPerSecond.toFixed(3)} a second`)
  sayLine(`workers                      ${size.workers}, each at most ${FULLEST * 100} % busy then`)
  sayLine(`a whole day's photos at once ${size.hoursForADayAtOnce.toFixed(1)} hours`)
  sayLine(
    `photos on disk               ${gigabytes(size.photoBytesADay)} a day, ${gigabytes(size.photoBytesAYear)} a year`,
  )
  return 0
}
