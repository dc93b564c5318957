import { afterEach, describe, expect, it } from 'vitest'
import { startingCatalogue } from '../../lib/catalogue/starting-catalogue'
import { startingFigures } from '../../lib/core/board/starting-figures'
import { noWork } from '../../lib/core/checks/judge-bike'
import { type OpenAside, startAside } from '../../lib/desk/aside'
import { reckonAside, shareAside } from '../../lib/shop/aside'
import { type InputOf, reckonings } from '../../lib/shop/reckonings'
import { anyBike } from '../support/small-catalogue'
import { asOf, now, reading } from '../support/small-readings'

/** A thread that knows how to do harm: its calculations are not those of the shop, so their names are free. */
type Harmful = { reckon(name: string, input?: unknown): Promise<unknown>; close(): Promise<void> }
const harmful = () =>
  startAside({
    reckonings: new URL('../support/harmful-reckonings.ts', import.meta.url),
  }) as unknown as Harmful

describe('a thread beside the pages', () => {
  let aside: Harmful
  afterEach(() => aside.close())

  it('answers each in turn, and to the one who asked', async () => {
    aside = harmful()
    const asked = Array.from({ length: 20 }, (_, n) => aside.reckon('double', n))
    expect(await Promise.all(asked)).toEqual(asked.map((_, n) => n * 2))
  })

  it('leaves this thread its turn while it reckons', async () => {
    aside = harmful()
    const left = aside.reckon('never comes back')
    const told = left.then(
      () => 'answered',
      (error: Error) => error.message,
    )
    let turns = 0
    while (turns < 100) {
      await new Promise((next) => setImmediate(next))
      turns += 1
    }
    await aside.close()
    expect(await told).toBe('The server is closing.')
  })

  it.each([
    ['what it threw', 'throws', /^7 is not reckoned with$/],
    ['an answer that cannot be copied', 'answers with a function', /could not be cloned/],
    ['the end of the thread', 'ends', /ended with 7 at ends/],
  ])('fails with %s, and those before and after come out', async (_what, name, message) => {
    aside = harmful()
    const before = aside.reckon('double', 4)
    const broken = expect(aside.reckon(name, 7)).rejects.toThrow(message)
    const after = aside.reckon('double', 5)
    expect(await before).toBe(8)
    await broken
    expect(await after).toBe(10)
    expect(await aside.reckon('double', 6)).toBe(12)
  })

  it('fails one that takes all the memory, and reckons on', async () => {
    aside = harmful()
    const broken = aside.reckon('runs out')
    const after = aside.reckon('double', 5)
    await expect(broken).rejects.toThrow(/ended with \d+ at runs out/)
    expect(await after).toBe(10)
  })

  it('fails what cannot even be sent', async () => {
    aside = harmful()
    await expect(aside.reckon('double', () => 1)).rejects.toThrow(/could not be cloned/)
    expect(await aside.reckon('double', 5)).toBe(10)
  })

  it('takes nothing more once it is closed', async () => {
    aside = harmful()
    await aside.close()
    await expect(aside.reckon('double', 5)).rejects.toThrow('The server is closing.')
  })
})

const boardInput: InputOf<'board-row'> = {
  bike: {
    catalogue: startingCatalogue,
    kind: anyBike,
    readings: [reading('tank-inside', 'flakes')],
    limits: [],
    decisions: [],
    clearings: [],
    work: noWork,
    ridePapers: { noted: true },
    figures: startingFigures,
    sale: { low: 200_000, likely: 235_000, high: 260_000 },
    price: { amountMinor: 140_000, basis: 'asking' },
    asOf,
    now,
  },
  facts: { id: 'b1', viewingNo: 7, stockNo: null, stage: 'viewing' },
  noted: { trade: null, parts: null, wastePermit: false, registryNotice: false },
}

describe('the shop’s own calculations', () => {
  let aside: OpenAside | null = null
  afterEach(async () => {
    shareAside(null)
    await aside?.close()
  })

  it('come out the same beside the pages as here', async () => {
    const here = await reckonAside('board-row', boardInput)
    expect(here).toEqual(reckonings['board-row'](boardInput))
    aside = startAside()
    shareAside(aside)
    expect(await reckonAside('board-row', boardInput)).toEqual(here)
  })
})
