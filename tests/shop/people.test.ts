import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { Context } from '../../lib/shop/deed'
import { addPerson, changePerson, personLeft, setPin } from '../../lib/shop/people'
import { readPeople } from '../../lib/shop/read-settings'
import { signIn, whoOf } from '../../lib/shop/sign-in'
import { done, type OpenShop, openTestShop, pins, refused, testNow } from '../support/open-shop'

let shop: OpenShop
beforeEach(async () => {
  shop = await openTestShop()
})
afterEach(() => shop.dispose())

const idOf = (context: Context) => context.who?.personId ?? ''
const newcomer = { name: 'Ines', roles: ['technician', 'dealer'], pin: '507384' }

async function signedIn(context: Context, pin: string) {
  const { token } = done(await signIn({ person: idOf(context), pin }, shop.nobody))
  return () => whoOf(shop.store, { sessionToken: token, deviceId: shop.deviceId, now: testNow })
}

describe('people', () => {
  it('a new person can sign in with all roles given', async () => {
    const { person } = done(await addPerson(newcomer, shop.manager))
    done(await signIn({ person, pin: newcomer.pin }, shop.nobody))
    const { people } = await readPeople(shop.store.db, testNow)
    const ines = people.find(({ id }) => id === person)
    expect(ines).toMatchObject({ name: 'Ines', signedIn: true, leftAt: null })
    expect([...(ines?.roles ?? [])].sort()).toEqual(['dealer', 'technician'])
    const events = await shop.store.db.event.findMany({ where: { verb: 'people:change' } })
    expect(events.at(-1)?.body).toContain('Ines')
    expect(events.at(-1)?.body).not.toContain(newcomer.pin)
  })

  it('only a manager changes people', async () => {
    const person = idOf(shop.technician)
    const tries = [
      addPerson(newcomer, shop.dealer),
      changePerson({ person, version: 1, name: 'Tove', roles: ['manager'] }, shop.technician),
      setPin({ person: idOf(shop.manager), version: 1, pin: '507384' }, shop.dealer),
      personLeft({ person, version: 1 }, shop.dealer),
    ]
    for (const result of await Promise.all(tries)) expect(refused(result).kind).toBe('not-allowed')
    const stranger = await addPerson(newcomer, shop.nobody)
    expect(refused(stranger).kind).toBe('not-signed-in')
    expect(await shop.store.db.person.count()).toBe(3)
  })

  it.each([
    ['name', { name: '' }],
    ['name', { name: 'tove' }],
    ['name', { name: '?!' }],
    ['roles', { roles: [] }],
    ['roles', { roles: undefined }],
    ['pin', { pin: '123456' }],
  ])('a wrong %s is told at its field (%j)', async (field, over) => {
    const refusal = refused(await addPerson({ ...newcomer, ...over }, shop.manager))
    expect(Object.keys(refusal.fields)).toEqual([field])
    expect(await shop.store.db.person.count()).toBe(3)
  })

  it('other roles hold from the next request, within the same session', async () => {
    const who = await signedIn(shop.technician, pins.technician)
    const person = idOf(shop.technician)
    done(await changePerson({ person, version: 1, name: 'Tove B', roles: ['dealer'] }, shop.manager))
    expect(await who()).toMatchObject({ name: 'Tove B', roles: ['dealer'] })
  })

  it('the second of two changes from the same version is refused and shown what is stored', async () => {
    const person = idOf(shop.technician)
    done(await changePerson({ person, version: 1, name: 'Tove B', roles: ['technician'] }, shop.manager))
    const second = await changePerson({ person, version: 1, name: 'T.', roles: ['dealer'] }, shop.manager)
    expect(refused(second)).toMatchObject({
      kind: 'stale',
      theirs: { name: 'Tove B', roles: 'technician', version: '2' },
    })
    done(await changePerson({ person, version: 2, name: 'T.', roles: ['dealer'] }, shop.manager))
  })

  it('somebody must remain a manager, whoever goes or changes', async () => {
    const person = idOf(shop.manager)
    const demoted = await changePerson({ person, version: 1, name: 'Mara', roles: ['dealer'] }, shop.manager)
    expect(refused(demoted).fields).toHaveProperty('roles')
    expect(refused(await personLeft({ person, version: 1 }, shop.manager)).kind).toBe('rule')
    const { person: second } = done(await addPerson({ ...newcomer, roles: ['manager'] }, shop.manager))
    done(await personLeft({ person, version: 1 }, shop.manager))
    const last = await personLeft({ person: second, version: 1 }, shop.manager)
    expect(refused(last).kind).toBe('rule')
  })

  it('of two managers who dismiss each other at the same moment one stays', async () => {
    const { person } = done(await addPerson({ ...newcomer, roles: ['manager'] }, shop.manager))
    const both = await Promise.all([
      personLeft({ person, version: 1 }, shop.manager),
      personLeft({ person: idOf(shop.manager), version: 1 }, shop.manager),
    ])
    expect(both.map(({ ok }) => ok).sort()).toEqual([false, true])
  })

  it('a new PIN ends every session under the old one, which no longer opens anything', async () => {
    const who = await signedIn(shop.technician, pins.technician)
    const person = idOf(shop.technician)
    for (let tries = 0; tries < 3; tries++) await signIn({ person, pin: '112233' }, shop.nobody)
    done(await setPin({ person, version: 1, pin: '619273' }, shop.manager))
    expect(await who()).toBeNull()
    expect(refused(await signIn({ person, pin: pins.technician }, shop.nobody)).fields).toHaveProperty('pin')
    done(await signIn({ person, pin: '619273' }, shop.nobody))
  })

  it('a manager who sets their own PIN stays signed in where they did it', async () => {
    const who = await signedIn(shop.manager, pins.manager)
    done(await setPin({ person: idOf(shop.manager), version: 1, pin: '619273' }, shop.manager))
    expect(await who()).toMatchObject({ name: 'Mara' })
  })

  it('who has left is signed out at once, cannot come in, and keeps their name in the past', async () => {
    const who = await signedIn(shop.technician, pins.technician)
    const person = idOf(shop.technician)
    done(await personLeft({ person, version: 1 }, shop.manager))
    expect(await who()).toBeNull()
    expect(refused(await signIn({ person, pin: pins.technician }, shop.nobody)).fields).toHaveProperty('pin')
    const { people } = await readPeople(shop.store.db, testNow)
    expect(people.find(({ id }) => id === person)).toMatchObject({ name: 'Tove', leftAt: testNow })
    expect(refused(await personLeft({ person, version: 2 }, shop.manager)).kind).toBe('not-found')
  })
})
