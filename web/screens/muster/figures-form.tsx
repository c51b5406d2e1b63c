/** The figures of all points: yards, crew, trucks, road, the day to end by, and the days without rain. */
import type { MusterAnswerShape } from '../../../services/http/muster-shapes.ts'
import { type MusterFigures, USUAL_MUSTER } from '../../../services/planning/muster-figures.ts'
import { Field, typedNumber } from '../../parts/field.tsx'
import { Fold } from '../../parts/fold.tsx'
import { Form } from '../../parts/form.tsx'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { musterWords as words } from '../../text/muster.ts'
import { saveFigures } from './save-figures.ts'

interface FiguresFormProps {
  readonly answer: MusterAnswerShape
  readonly reload: () => void
}

const PER_CENT = 100
const GROUPS = {
  yards: ['portableYards', 'daysToSet', 'daysToMuster', 'musteredShare'],
  trucks: ['trucks', 'decksATruck', 'headADeck', 'loadsADay'],
  road: ['km', 'kmAnHour', 'musterHours', 'nightHours', 'loadHours', 'unloadHours'],
} as const

/** What the fields show of some figures; also what marks those that nobody has changed. */
function typedOf({
  means,
  haul,
  musteredShare,
  rain,
  nights,
}: Pick<MusterFigures, 'means' | 'haul' | 'musteredShare' | 'rain' | 'nights'>) {
  const numbers = {
    ...means,
    ...haul,
    musteredShare: Math.round(musteredShare * PER_CENT * 10) / 10,
    nights,
    days: rain.days,
    'kgASheepDay.low': rain.kgASheepDay.low,
    'kgASheepDay.high': rain.kgASheepDay.high,
  }
  return Object.fromEntries(Object.entries(numbers).map(([name, value]) => [name, String(value)])) as {
    readonly [Name in keyof typeof numbers]: string
  }
}

const USUAL = typedOf(USUAL_MUSTER)

interface FoldedProps extends FiguresFormProps {
  readonly open: boolean
  readonly turned: (open: boolean) => void
}

export function FiguresForm({ answer, reload, open, turned }: FoldedProps) {
  return (
    <section class="muster-figures" aria-labelledby="figures-head">
      <Fold head={<h2 id="figures-head">{words.figures}</h2>} open={open} turned={turned}>
        <p class="small">{words.figuresHint}</p>
        <AllFigures answer={answer} reload={reload} />
      </Fold>
    </section>
  )
}

function AllFigures({ answer, reload }: FiguresFormProps) {
  const form = useForm()
  const { figures } = answer
  const { typed, names, of } = useFields({
    ...typedOf(figures),
    endBy: figures.endBy ?? '',
    mostHoursOffWater: figures.mostHoursOffWater === null ? '' : String(figures.mostHoursOffWater),
    note: '',
  })
  const submit = async () => {
    const number = (name: keyof typeof typed) => typedNumber(typed[name])
    const share = number('musteredShare')
    const each = <Name extends string>(of: Readonly<Record<Name, unknown>>) =>
      Object.fromEntries(Object.keys(of).map((name) => [name, number(name as keyof typeof typed)]))
    await saveFigures(
      answer,
      {
        ...figures,
        nights: number('nights'),
        means: each(figures.means),
        haul: each(figures.haul),
        musteredShare: typeof share === 'number' ? share / PER_CENT : share,
        endBy: typed.endBy || null,
        mostHoursOffWater: typed.mostHoursOffWater.trim() === '' ? null : number('mostHoursOffWater'),
        rain: {
          days: number('days'),
          kgASheepDay: { low: number('kgASheepDay.low'), high: number('kgASheepDay.high') },
        },
      },
      typed.note.trim() || null,
    )
    reload()
  }
  const field = (name: keyof typeof USUAL, label: string) => (
    <Field
      label={label}
      {...of(name)}
      kind="number"
      {...(typed[name] === USUAL[name] ? { hint: words.usual } : {})}
      key={name}
    />
  )
  return (
    <Form form={form} label={words.figures} button={words.save} fields={names} submit={submit}>
      <Group name={words.groups.days}>
        <Field label={words.fields.endBy} {...of('endBy')} kind="date" hint={words.hints.endBy} />
        {field('nights', words.fields.nights)}
      </Group>
      {(['yards', 'trucks', 'road'] as const).map((group) => (
        <Group name={words.groups[group]} key={group}>
          {GROUPS[group].map((name) => field(name, words.fields[name]))}
          {group === 'road' && (
            <Field
              label={words.fields.mostHoursOffWater}
              {...of('mostHoursOffWater')}
              kind="number"
              hint={words.hints.mostHoursOffWater}
            />
          )}
        </Group>
      ))}
      <Group name={words.groups.rain}>
        {field('days', words.fields.days)}
        {field('kgASheepDay.low', words.fields.kgLow)}
        {field('kgASheepDay.high', words.fields.kgHigh)}
      </Group>
      <Field label={words.fields.note} {...of('note')} />
    </Form>
  )
}

function Group({ name, children }: { readonly name: string; readonly children: preact.ComponentChildren }) {
  return (
    <fieldset class="muster-group">
      <legend>{name}</legend>
      <div class="field-pair">{children}</div>
    </fieldset>
  )
}
