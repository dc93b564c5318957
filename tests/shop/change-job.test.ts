import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { readCatalogue } from '../../lib/shop/catalogue'
import { changeJob, readJobs } from '../../lib/shop/change-job'
import { done, type OpenShop, openTestShop, refused } from '../support/open-shop'

const sent = (over: Record<string, unknown> = {}) => ({
  key: 'tank-reseal',
  version: '0',
  hours: { low: '2', likely: '2.5', high: '4' },
  outsideWork: { low: '0', likely: '0', high: '0' },
  parts: {
    0: { name: 'sealer kit', qty: '1', unitCost: { low: '40', likely: '48.50', high: '60' } },
    1: { name: '', qty: '1', unitCost: { low: '0', likely: '0', high: '0' } },
  },
  ...over,
})

describe("a shop's own figures for a job", () => {
  let shop: OpenShop
  beforeEach(async () => {
    shop = await openTestShop()
  })
  afterEach(() => shop.dispose())

  const inForce = async () =>
    (await readCatalogue(shop.store.db)).jobs.find((job) => job.key === 'tank-reseal')

  it('cover the starting values for every bike, and an event says so', async () => {
    const before = await inForce()
    done(await changeJob(sent(), shop.manager))
    expect(await inForce()).toEqual({
      ...before,
      hours: { low: 2, likely: 2.5, high: 4 },
      parts: [{ name: 'sealer kit', qty: 1, unitCost: { low: 4000, likely: 4850, high: 6000 } }],
      source: { kind: 'shop', says: 'set by this shop' },
    })
    const event = await shop.store.db.event.findFirstOrThrow({ where: { verb: 'catalogue:change' } })
    expect(JSON.parse(event.body)).toMatchObject({
      kind: 'job',
      key: 'tank-reseal',
      done: 'changed',
      before: { hours: before?.hours },
      after: { hours: { low: 2, likely: 2.5, high: 4 } },
    })
  })

  it('are refused from a version that is no longer the stored one', async () => {
    done(await changeJob(sent(), shop.manager))
    expect(refused(await changeJob(sent(), shop.manager))).toMatchObject({
      kind: 'stale',
      theirs: { version: '1' },
    })
    done(await changeJob(sent({ version: '1', hours: { low: '', likely: '3', high: '' } }), shop.manager))
    const { jobs } = await readJobs(shop.store)
    expect(jobs.find((job) => job.key === 'tank-reseal')).toMatchObject({ hours: 3, version: 2 })
  })

  it.each([
    ['hours that are no number', { hours: { low: '2', likely: 'two', high: '4' } }, 'hours.likely'],
    ['a low above the likely', { hours: { low: '3', likely: '2', high: '4' } }, 'hours.low'],
    [
      'a part without a price',
      { parts: { 0: { name: 'kit', qty: '1', unitCost: { low: '', likely: '', high: '' } } } },
      'parts.0.unitCost.likely',
    ],
    [
      'a part of which none is needed',
      { parts: { 0: { name: 'kit', qty: '0', unitCost: { low: '1', likely: '1', high: '1' } } } },
      'parts.0.qty',
    ],
  ])('are refused with %s, at the field', async (_title, over, field) => {
    const { kind, fields } = refused(await changeJob(sent(over), shop.manager))
    expect(kind).toBe('malformed')
    expect(Object.keys(fields)).toEqual([field])
  })

  it('are nobody but a manager’s to set', async () => {
    expect(refused(await changeJob(sent(), shop.dealer)).kind).toBe('not-allowed')
    expect(refused(await changeJob(sent(), shop.technician)).kind).toBe('not-allowed')
    expect(refused(await changeJob(sent(), shop.nobody)).kind).toBe('not-signed-in')
    expect(await shop.store.db.catalogueChange.count()).toBe(0)
  })

  it('of a job that is not there are refused', async () => {
    expect(refused(await changeJob(sent({ key: 'no-such-job' }), shop.manager)).kind).toBe('not-found')
  })
})
