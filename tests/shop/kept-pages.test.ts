import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import type { Context } from '../../lib/shop/deed'
import { readKeptPages } from '../../lib/shop/kept-pages'
import { recordReading } from '../../lib/shop/record-reading'
import { pages } from '../../lib/web/pages'
import { done, type OpenShop, openTestShop } from '../support/open-shop'
import { look, takenIn } from '../support/readings'

let shop: OpenShop
let bike: string
let viewingNo: number
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike, viewingNo } = await takenIn(shop))
})
afterEach(() => shop.dispose())

const keptFor = async (context: Context) => readKeptPages({ ...context, who: context.who! })
const addresses = async (context: Context) => (await keptFor(context)).map(({ address }) => address)

describe('the pages that a device keeps', () => {
  test('are a technician’s own: lists, and each bike with its checks and its bench', async () => {
    expect(await addresses(shop.technician)).toEqual([
      '/device',
      '/bench/today',
      '/bikes',
      '/tyres',
      '/words',
      `/bikes/${viewingNo}`,
      `/bikes/${viewingNo}/checks`,
      `/bikes/${viewingNo}/checks/short`,
      `/bikes/${viewingNo}/bench`,
    ])
  })

  test.each(['dealer', 'manager'] as const)(
    'are for a %s only those that show no money to anybody',
    async (role) => {
      expect(await addresses(shop[role])).toEqual([
        '/device',
        '/bench/today',
        '/tyres',
        '/words',
        `/bikes/${viewingNo}/checks`,
        `/bikes/${viewingNo}/checks/short`,
        `/bikes/${viewingNo}/bench`,
      ])
    },
  )

  test('are open to whoever keeps them, by the table of pages', async () => {
    for (const address of await addresses(shop.technician)) {
      const page = address.replace(String(viewingNo), '[bike]') as keyof typeof pages
      expect(pages[page], address).toBe('bike:see')
    }
  })

  test('have on a dealer’s own device the page of the viewings that lie on it, and nobody else has', async () => {
    const { personId } = shop.dealer.who!
    await shop.store.db.device.update({ where: { id: shop.deviceId }, data: { ownerId: personId } })
    expect(await addresses(shop.dealer)).toContain('/away')
    expect(await addresses(shop.manager)).not.toContain('/away')
    expect(await addresses(shop.technician)).not.toContain('/away')
  })

  test('leave out a bike that was passed up', async () => {
    await shop.store.db.bike.update({ where: { id: bike }, data: { stage: 'passed up' } })
    expect((await addresses(shop.technician)).filter((one) => one.startsWith('/bikes/'))).toEqual([])
  })

  test('change their mark where the bike had something happen to it, and only there', async () => {
    const { bike: other, viewingNo: otherNo } = await takenIn(shop)
    const before = new Map((await keptFor(shop.technician)).map(({ address, mark }) => [address, mark]))
    done(await recordReading(look(other, ['fuel-leaks', 'dry']), shop.technician))
    const after = await keptFor(shop.technician)
    const changed = after.filter(({ address, mark }) => before.get(address) !== mark)
    expect(changed.map(({ address }) => address)).toEqual([
      '/bench/today',
      '/bikes',
      `/bikes/${otherNo}`,
      `/bikes/${otherNo}/checks`,
      `/bikes/${otherNo}/checks/short`,
      `/bikes/${otherNo}/bench`,
    ])
  })
})
