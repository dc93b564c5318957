import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { startingCatalogue } from '../../lib/catalogue/starting-catalogue'
import { meanChance } from '../../lib/core/checks/chance'
import { readFigures } from '../../lib/shop/figures'
import { acceptLearned, countWritten, everyFault, readLearned, revertLearned } from '../../lib/shop/learned'
import { recordReading } from '../../lib/shop/record-reading'
import { done, type OpenShop, openTestShop, refused } from '../support/open-shop'
import { look, takenIn } from '../support/readings'
import { findSound } from '../support/sound-bike'
import { workOutBike } from '../support/work-out'

let shop: OpenShop
beforeEach(async () => {
  shop = await openTestShop()
})
afterEach(() => shop.dispose())

/** A bike whose looks of the cold round were done, all good but the tank where it is rusty. */
async function lookedAt({ rusty }: { rusty: boolean }) {
  const { bike, viewingNo } = await takenIn(shop)
  const cold = startingCatalogue.checks.filter(({ round, sort }) => round === 'cold' && sort === 'look')
  const only = cold.filter(({ key }) => key !== 'tank-inside').map(({ key }) => key)
  await findSound(shop.technician, { bike, only: ({ key }) => only.includes(key) })
  done(await recordReading(look(bike, ['tank-inside', rusty ? rustyAnswer : goodAnswer]), shop.technician))
  return { bike, viewingNo }
}

const tank = startingCatalogue.checks.find(({ key }) => key === 'tank-inside')!
const rustyAnswer = tank.raises.flatMap((raise) =>
  'fault' in raise && raise.fault === 'tank-rust' && raise.when.on === 'answer' ? [raise.when.answer] : [],
)[0]!
const goodAnswer = tank.sort === 'look' ? tank.answers.find(({ tone }) => tone === 'good')!.key : ''

const page = () => readLearned(shop.manager)
const rust = async () => (await page()).offered.find(({ fault }) => fault === 'tank-rust')!
const accept = async (over: Record<string, unknown> = {}) => {
  const { version, offered } = await page()
  const seen = Object.fromEntries(offered.map((one) => [one.fault, countWritten(one)]))
  return acceptLearned({ version, fault: 'tank-rust', seen, ...over }, shop.manager)
}

describe('learned chances', () => {
  it('are offered from looks done as routine, with what they would make of the starting chance', async () => {
    await lookedAt({ rusty: true })
    await lookedAt({ rusty: false })
    const { starting, ...shown } = await rust()
    expect(shown).toMatchObject({ found: 1, looked: 2, inForce: starting })
    expect(shown.learned).toBeCloseTo((starting * 20 + 1) / 22, 12)
  })

  it('are not counted from a look taken alone', async () => {
    const { bike } = await takenIn(shop)
    done(await recordReading(look(bike, ['tank-inside', rustyAnswer]), shop.technician))
    expect((await page()).offered).toEqual([])
  })

  it('change nothing until they are accepted, and then stand under a new number of the figures', async () => {
    await lookedAt({ rusty: true })
    const { bike } = await takenIn(shop)
    const chanceThere = async () => {
      const { result } = await workOutBike(shop.store.db, { bikeId: bike, now: shop.manager.now })
      return meanChance(result.faults.find(({ fault }) => fault === 'tank-rust')!.chance, result.care.after)
    }
    const before = await chanceThere()
    const { learned, starting } = await rust()
    expect(await readFigures(shop.store.db)).toMatchObject({ hiddenFaults: { learned: {} } })
    expect(done(await accept())).toEqual({ figuresNo: 2, faults: ['tank-rust'] })
    expect((await readFigures(shop.store.db)).hiddenFaults.learned).toEqual({
      'tank-rust': { found: 1, looked: 1, until: '2026-11-25' },
    })
    const first = await shop.store.db.figures.findUniqueOrThrow({ where: { no: 1 } })
    expect(JSON.parse(first.body)).toMatchObject({ hiddenFaults: { learned: {} } })
    expect(learned).toBeGreaterThan(starting)
    expect(await chanceThere()).toBeGreaterThan(before)
    const shown = await page()
    expect(shown.offered.map(({ fault }) => fault)).not.toContain('tank-rust')
    expect(shown.accepted).toMatchObject([{ fault: 'tank-rust', inForce: learned, until: '2026-11-25' }])
    const event = await shop.store.db.event.findFirstOrThrow({ orderBy: { seq: 'desc' } })
    expect(event).toMatchObject({ verb: 'figures:change', bikeId: null })
    expect(JSON.parse(event.body)).toMatchObject({ figures: 2, learned: { 'tank-rust': { found: 1 } } })
  })

  it('are accepted all at once, and go back to the starting chance one by one or all', async () => {
    await lookedAt({ rusty: true })
    const { offered } = await page()
    expect(done(await accept({ fault: everyFault })).faults).toEqual(
      expect.arrayContaining(offered.map(({ fault }) => fault)),
    )
    const { version, accepted } = await page()
    expect(accepted).toHaveLength(offered.length)
    done(await revertLearned({ version, fault: 'tank-rust' }, shop.manager))
    const now = await page()
    expect(now.accepted).toHaveLength(offered.length - 1)
    expect(now.offered.map(({ fault }) => fault)).toEqual(['tank-rust'])
    done(await revertLearned({ version: now.version, fault: everyFault }, shop.manager))
    expect((await readFigures(shop.store.db)).hiddenFaults.learned).toEqual({})
    expect(await shop.store.db.figures.count()).toBe(4)
  })

  it('are refused where more was looked at since, where nothing is counted, and from an older version', async () => {
    await lookedAt({ rusty: true })
    const seen = { 'tank-rust': '1/1' }
    await lookedAt({ rusty: false })
    expect(refused(await accept({ seen }))).toMatchObject({ kind: 'rule' })
    expect(refused(await accept({ fault: 'no-such-fault' }))).toMatchObject({ kind: 'not-found' })
    expect(refused(await accept({ version: 7 }))).toMatchObject({ kind: 'stale', theirs: { version: '1' } })
    expect(refused(await revertLearned({ version: 1, fault: 'tank-rust' }, shop.manager))).toMatchObject({
      kind: 'not-found',
    })
    expect(refused(await accept({ fault: '' }))).toMatchObject({ fields: { fault: 'Choose a fault.' } })
    expect(await shop.store.db.figures.count()).toBe(1)
  })

  it('are for a manager alone', async () => {
    await lookedAt({ rusty: true })
    const input = { version: 1, fault: 'tank-rust', seen: { 'tank-rust': '1/1' } }
    for (const context of [shop.dealer, shop.technician]) {
      expect(refused(await acceptLearned(input, context)).kind).toBe('not-allowed')
      expect(refused(await revertLearned({ version: 1, fault: 'tank-rust' }, context)).kind).toBe(
        'not-allowed',
      )
    }
    expect(refused(await acceptLearned(input, shop.nobody)).kind).toBe('not-signed-in')
  })
})
