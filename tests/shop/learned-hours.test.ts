import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { readShopFacts } from '../../lib/shop/facts'
import { finishJob } from '../../lib/shop/job-runs'
import { acceptHours, readLearnedHours, revertHours } from '../../lib/shop/learned-hours'
import { begin, onTheBench } from '../support/on-the-bench'
import { done, type OpenShop, openTestShop, refused, testNow } from '../support/open-shop'

let shop: OpenShop
beforeEach(async () => {
  shop = await openTestShop()
})
afterEach(() => shop.dispose())

/** The job was done on so many bikes, each time from noon to four. */
async function doneTimes(times: number, job = 'horn') {
  for (let time = 0; time < times; time += 1) {
    const { bike } = await onTheBench(shop)
    const run = await begin(shop, { bike, job })
    done(await finishJob({ run, version: 1 }, shop.at(shop.technician, '2026-11-25T16:00:00Z')))
  }
}
const page = () => readLearnedHours(shop.manager)
const accept = async (over: object = {}) => {
  const { version, offered } = await page()
  const input = { version, job: 'horn', seen: offered[0]?.times ?? 1, ...over }
  return acceptHours(input, shop.manager)
}
const hoursOf = async (job: string) => {
  const { catalogue } = await readShopFacts(shop.store.db, testNow)
  return catalogue.jobs.find(({ key }) => key === job)!.hours as { likely: number }
}

describe('hours of jobs done here', () => {
  it('are offered from the third time on, with what was expected, and pulled towards it', async () => {
    await doneTimes(2)
    expect(await page()).toMatchObject({ offered: [], tooFew: 1, jobs: 2 })
    await doneTimes(1)
    const [offered] = (await page()).offered
    expect(offered).toMatchObject({ job: 'horn', times: 3, took: 4, inForce: 1 })
    const ratio = 4 / offered!.expected
    // Three jobs against four of the catalogue: Σ ln r / 7.
    expect(offered!.learned).toBeCloseTo(Math.exp((3 * Math.log(ratio)) / 7), 9)
  })

  it('change nothing until a manager accepts them, and then the hours that every bike is reckoned with', async () => {
    await doneTimes(3)
    const before = await hoursOf('horn')
    const factor = (await page()).offered[0]!.learned
    done(await accept())
    expect((await hoursOf('horn')).likely).toBeCloseTo(before.likely * factor, 9)
    expect(await page()).toMatchObject({ offered: [], accepted: [{ job: 'horn', until: '2026-11-25' }] })
    const { version } = await page()
    done(await revertHours({ version, job: 'horn' }, shop.manager))
    expect(await hoursOf('horn')).toEqual(before)
  })

  it('tell how many fell into their range, by month, with the score of the whole spread', async () => {
    await doneTimes(2)
    const { jobs, inside, months } = await page()
    expect({ jobs, inside }).toEqual({ jobs: 2, inside: 0 })
    expect(months).toMatchObject([{ month: '2026-11', jobs: 2, inside: 0 }])
    expect(months[0]!.crps).toBeGreaterThan(1)
  })

  it('are told as none where nothing was done', async () => {
    expect(await page()).toMatchObject({ jobs: 0, inside: 0, months: [], offered: [], accepted: [] })
  })

  it('are accepted only as they were seen, by who may, and from the version that was seen', async () => {
    await doneTimes(3)
    expect(refused(await accept({ seen: 2 })).kind).toBe('rule')
    expect(refused(await accept({ job: 'magic' })).kind).toBe('not-found')
    expect(refused(await accept({ version: 7 })).kind).toBe('stale')
    expect(refused(await accept({ seen: 'many' })).kind).toBe('malformed')
    const input = { version: 1, job: 'horn', seen: 3 }
    expect(refused(await acceptHours(input, shop.dealer)).kind).toBe('not-allowed')
    expect(refused(await acceptHours(input, shop.nobody)).kind).toBe('not-signed-in')
    done(await accept())
    const back = { version: 1, job: 'horn' }
    expect(refused(await revertHours(back, shop.technician)).kind).toBe('not-allowed')
    expect(refused(await revertHours(back, shop.nobody)).kind).toBe('not-signed-in')
    expect(refused(await revertHours(back, shop.manager)).kind).toBe('stale')
    expect(refused(await revertHours({ version: 2, job: 'magic' }, shop.manager)).kind).toBe('not-found')
    expect(refused(await revertHours({ version: 2, job: '' }, shop.manager)).kind).toBe('malformed')
  })
})
