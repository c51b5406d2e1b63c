import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { openTurns } from '../../../../worker/eye/turns.ts'

const settled = () => new Promise((resolve) => setImmediate(resolve))

describe('turns of large stills', () => {
  test('a still that fits beside those in hand begins at once', async () => {
    const takeTurn = openTurns(100)
    await takeTurn(60)
    await takeTurn(40)
  })

  test('one that does not fit waits until enough have ended', async () => {
    const takeTurn = openTurns(100)
    const end = await takeTurn(60)
    let begun = false
    void takeTurn(50).then(() => {
      begun = true
    })
    await settled()
    expect(begun).toBe(false)
    end()
    await settled()
    expect(begun).toBe(true)
  })

  test('one larger than the limit has its turn, alone', async () => {
    const takeTurn = openTurns(100)
    const end = await takeTurn(400)
    let begun = false
    void takeTurn(1).then(() => {
      begun = true
    })
    await settled()
    expect(begun).toBe(false)
    end()
    await settled()
    expect(begun).toBe(true)
  })

  test('a small one does not overtake a large one that waits, which would else wait for ever', async () => {
    const takeTurn = openTurns(100)
    const begun: string[] = []
    const end = await takeTurn(50)
    void takeTurn(80).then(() => begun.push('large'))
    void takeTurn(10).then(() => begun.push('small'))
    await settled()
    expect(begun).toEqual([])
    end()
    await settled()
    expect(begun).toEqual(['large', 'small'])
  })

  test('a turn ended twice frees its room once', async () => {
    const takeTurn = openTurns(100)
    const end = await takeTurn(50)
    await takeTurn(50)
    end()
    end()
    await takeTurn(50)
    let begun = false
    void takeTurn(50).then(() => {
      begun = true
    })
    await settled()
    expect(begun).toBe(false)
  })

  test('never are more pixels in hand than the limit, save for one alone, and every still has its turn', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(fc.integer({ min: 1, max: 150 }), { maxLength: 20 }), async (stills) => {
        const takeTurn = openTurns(100)
        const inHand: number[] = []
        let done = 0
        await Promise.all(
          stills.map(async (pixels) => {
            const end = await takeTurn(pixels)
            inHand.push(pixels)
            const sum = inHand.reduce((all, one) => all + one, 0)
            expect(sum <= 100 || inHand.length === 1).toBe(true)
            await settled()
            inHand.splice(inHand.indexOf(pixels), 1)
            done++
            end()
          }),
        )
        expect(done).toBe(stills.length)
      }),
    )
  })
})
