/** What is said to the growth bench, and what it says. */
import { describe, expect, it } from 'vitest'
import { Refusal } from '../../../services/refusal.ts'
import { figuresOf, inWords, ratioLines } from '../../bench/growth/figures.ts'
import { growthOptions } from '../../bench/growth/options.ts'

describe('options of the growth bench', () => {
  it('are three sizes and nothing kept unless said', () => {
    expect(growthOptions([])).toEqual({ stills: [10_000, 1_000_000, 10_000_000], keep: null })
  })

  it('take any sizes, each once and the smallest first, and a folder', () => {
    expect(growthOptions(['--stills', '5000', '2000', '5000', '--keep', '/filled'])).toEqual({
      stills: [2000, 5000],
      keep: '/filled',
    })
  })

  it.each([
    [['--stills']],
    [['--stills', 'many']],
    [['--stills', '10.5']],
    [['--stills', '1']],
    [['--keep']],
    [['--keep', 'one', 'two']],
    [['--fast']],
  ])('refuse %j with the remedy', (args) => {
    expect(() => growthOptions(args)).toThrow(Refusal)
  })
})

describe('figures', () => {
  it('are the median, the 95th of a hundred and the largest', () => {
    const times = Array.from({ length: 100 }, (_, i) => 100 - i)
    expect(figuresOf(times, 500)).toEqual({ asked: 100, medianMs: 50, p95Ms: 95, maxMs: 100, cpuMs: 5 })
  })

  it('of no times are none', () => {
    expect(() => figuresOf([], null)).toThrow(RangeError)
  })

  it('of two sizes are told as how many times the median has grown', () => {
    const ledger = (stills: number, ms: number) => ({
      stills,
      measured: [{ question: 'water run', state: 'warm' as const, figures: figuresOf([ms], null) }],
    })
    const lines = ratioLines(ledger(1_000_000, 10), ledger(10_000_000, 15))
    expect(lines[0]).toContain('from 1 million to 10 million photos')
    expect(lines[1]).toMatch(/water run, warm +1\.50 x/)
  })

  it('write sizes as people say them', () => {
    expect([10_000, 1_000_000, 10_000_000].map(inWords)).toEqual(['10,000', '1 million', '10 million'])
  })
})
