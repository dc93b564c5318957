import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { comeBackIn, makeBackInCode } from '../../lib/shop/back-in'
import { signIn } from '../../lib/shop/sign-in'
import { done, type OpenShop, openTestShop, pins, refused, testNow } from '../support/open-shop'

describe('the way back for a manager who cannot sign in', () => {
  let shop: OpenShop
  let code: string
  beforeEach(async () => {
    shop = await openTestShop()
    code = (await makeBackInCode(shop.store, testNow)) ?? ''
  })
  afterEach(() => shop.dispose())

  const stranger = () => ({ store: shop.store, now: testNow, who: null, deviceId: null })
  const sent = (over: object = {}) => ({
    code,
    personName: 'mara',
    pin: '918273',
    deviceName: 'new laptop',
    ...over,
  })

  it('sets a new PIN, enrols the device, ends old sessions and writes it down', async () => {
    const old = done(await signIn({ person: shop.manager.who?.personId, pin: pins.manager }, shop.nobody))
    expect(old.token).toHaveLength(43)
    const back = done(await comeBackIn(sent(), stranger()))
    expect(await shop.store.db.session.count({ where: { endedAt: null } })).toBe(0)
    const here = { ...stranger(), deviceId: back.deviceId }
    expect(refused(await signIn({ person: back.personId, pin: pins.manager }, here)).fields).toHaveProperty(
      'pin',
    )
    done(await signIn({ person: back.personId, pin: '918273' }, here))
    const { body } = await shop.store.db.event.findFirstOrThrow({ where: { verb: 'manager:come-back' } })
    expect(JSON.parse(body)).toEqual({ backIn: 'Mara', device: 'new laptop' })
  })

  it('works once, and not with a code for something else', async () => {
    done(await comeBackIn(sent(), stranger()))
    expect(refused(await comeBackIn(sent(), stranger())).fields).toHaveProperty('code')
    expect(refused(await comeBackIn(sent({ code: '0000-0000-0000' }), stranger())).fields).toHaveProperty(
      'code',
    )
  })

  it('is for managers only, and a wrong name does not use the code up', async () => {
    expect(refused(await comeBackIn(sent({ personName: 'Tove' }), stranger())).fields).toHaveProperty(
      'personName',
    )
    done(await comeBackIn(sent(), stranger()))
  })
})
