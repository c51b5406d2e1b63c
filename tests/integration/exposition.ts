/**
 * A strict reader of the Prometheus text exposition format 0.0.4, written from its published description
 * ("Exposition formats", sections "Comments, help text, and type information" and "Grouping and sorting"; from memory):
 * HELP and TYPE at most once and before the samples of their metric, the samples of a metric in one group, labels quoted
 * with \\, \" and \n escaped, and histograms whose buckets grow up to `+Inf`, which equals `_count`.
 */
export interface Metric {
  readonly type: string
  readonly help: string
  readonly samples: readonly Sample[]
}

export interface Sample {
  readonly name: string
  readonly labels: Readonly<Record<string, string>>
  readonly value: number
}

const NAME = /^[a-zA-Z_:][a-zA-Z0-9_:]*/
const LABEL = /^([a-zA-Z_][a-zA-Z0-9_]*)="((?:[^"\\\n]|\\[\\"n])*)"(,|(?=\}))/
const TYPES = ['counter', 'gauge', 'histogram', 'summary', 'untyped']

/** @throws Error at the first line that is not as it should be. */
export function readExposition(text: string): ReadonlyMap<string, Metric> {
  if (!text.endsWith('\n')) throw new Error('the last line has no end')
  const metrics = new Map<string, { type: string; help: string; samples: Sample[] }>()
  let current = ''
  for (const line of text.slice(0, -1).split('\n')) {
    if (line === '') continue
    const comment = /^# (HELP|TYPE) ([a-zA-Z_:][a-zA-Z0-9_:]*) (.+)$/.exec(line)
    if (comment) {
      const [, kind = '', name = '', words = ''] = comment
      if (name !== current && metrics.has(name)) throw new Error(`${name} is not in one group`)
      const metric = metrics.get(name) ?? { type: '', help: '', samples: [] }
      if (metric.samples.length > 0) throw new Error(`${kind} of ${name} after its samples`)
      if (kind === 'TYPE' && (metric.type !== '' || !TYPES.includes(words))) throw new Error(line)
      if (kind === 'HELP' && metric.help !== '') throw new Error(`two HELP of ${name}`)
      metrics.set(name, kind === 'TYPE' ? { ...metric, type: words } : { ...metric, help: words })
      current = name
      continue
    }
    if (line.startsWith('#')) throw new Error(`neither HELP nor TYPE: ${line}`)
    const sample = readSample(line)
    const metric = metrics.get(current)
    if (metric === undefined || !belongs(sample.name, { name: current, type: metric.type })) {
      throw new Error(`${sample.name} stands under ${current}`)
    }
    const key = JSON.stringify([sample.name, Object.entries(sample.labels).toSorted()])
    if (
      metric.samples.some((one) => JSON.stringify([one.name, Object.entries(one.labels).toSorted()]) === key)
    ) {
      throw new Error(`twice: ${line}`)
    }
    metric.samples.push(sample)
  }
  for (const [name, metric] of metrics) {
    if (metric.type === 'histogram') checkHistogram(name, metric)
    if (metric.type === 'counter' && metric.samples.some(({ value }) => !(value >= 0))) throw new Error(name)
  }
  return metrics
}

function readSample(line: string): Sample {
  const name = NAME.exec(line)?.[0]
  if (name === undefined) throw new Error(`no name: ${line}`)
  let rest = line.slice(name.length)
  const labels: Record<string, string> = {}
  if (rest.startsWith('{')) {
    rest = rest.slice(1)
    while (!rest.startsWith('}')) {
      const label = LABEL.exec(rest)
      if (!label) throw new Error(`labels: ${line}`)
      if (Object.hasOwn(labels, label[1]!)) throw new Error(`label twice: ${line}`)
      labels[label[1]!] = label[2]!.replace(/\\(.)/g, (_, sign: string) => (sign === 'n' ? '\n' : sign))
      rest = rest.slice(label[0].length)
    }
    rest = rest.slice(1)
  }
  // A value is "a float represented as required by Go's ParseFloat()", which reads Inf and NaN in any letters' case;
  // prom-client writes a mean of nothing yet as "Nan".
  const value = /^ ([+-]?(?:\d+(?:\.\d+)?(?:e[+-]?\d+)?|inf)|nan)( -?\d+)?$/i.exec(rest)
  if (!value) throw new Error(`value: ${line}`)
  return { name, labels, value: Number(value[1]!.replace(/inf/i, 'Infinity').replace(/nan/i, 'NaN')) }
}

function belongs(sample: string, { name, type }: { name: string; type: string }): boolean {
  if (type === 'histogram') return [`${name}_bucket`, `${name}_sum`, `${name}_count`].includes(sample)
  if (type === 'summary') return [name, `${name}_sum`, `${name}_count`].includes(sample)
  return sample === name
}

function checkHistogram(name: string, { samples }: Metric): void {
  const series = new Map<string, { buckets: Array<[number, number]>; count?: number; sum?: number }>()
  for (const { name: sample, labels, value } of samples) {
    const { le, ...others } = labels
    const key = JSON.stringify(Object.entries(others).toSorted())
    const one = series.get(key) ?? { buckets: [] }
    if (sample.endsWith('_bucket')) one.buckets.push([Number(le!.replace('Inf', 'Infinity')), value])
    else if (sample.endsWith('_count')) one.count = value
    else one.sum = value
    series.set(key, one)
  }
  for (const { buckets, count, sum } of series.values()) {
    const grows = buckets.every(
      ([le, n], i) => i === 0 || (le > buckets[i - 1]![0] && n >= buckets[i - 1]![1]),
    )
    const [lastLe, lastCount] = buckets.at(-1) ?? [0, -1]
    if (!grows || lastLe !== Number.POSITIVE_INFINITY || lastCount !== count || sum === undefined) {
      throw new Error(`the buckets of ${name} are not right`)
    }
  }
}
