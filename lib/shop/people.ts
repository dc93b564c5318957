import { uuidv7 } from 'uuidv7'
import { z } from 'zod'
import type { Tx } from '../data/store'
import { type Context, deed, requireFresh } from './deed'
import { idOf, lineOf, most, searchKey, versionOf } from './fields'
import { hashPin, newPin } from './pin'
import { refuse, refuseField } from './refusal'
import { type Role, roles } from './who-may'

const personName = lineOf(most.name, 'Give the name as it should stand on the sign-in page.')
const heldRoles = z
  .array(z.enum(roles), { error: 'Choose at least one role.' })
  .min(1, 'Choose at least one role.')
  .transform((chosen) => [...new Set(chosen)])

export const addPersonInput = z.strictObject({ name: personName, roles: heldRoles, pin: newPin })

/** A new person, who signs in by name on any enrolled device. */
export const addPerson = deed('people:change', addPersonInput, {
  prepare: async (input, { store }: Context) => ({ pinHash: await hashPin(input.pin, store.pepper) }),
  work: async (input, { tx, now }, { pinHash }) => {
    const person = uuidv7()
    await requireNewName(tx, { name: input.name, except: null })
    await tx.person.create({
      data: {
        id: person,
        name: input.name,
        nameKey: searchKey(input.name),
        pinHash,
        createdAt: now,
        roles: { create: input.roles.map((role) => ({ role })) },
      },
    })
    return {
      answer: { person },
      event: { bikeId: null, body: { added: person, name: input.name, roles: input.roles } },
    }
  },
})

export const changePersonInput = z.strictObject({
  person: idOf,
  version: versionOf,
  name: personName,
  roles: heldRoles,
})

/** Another name or other roles; what the person may do changes with their very next request. */
export const changePerson = deed('people:change', changePersonInput, async (input, { tx }) => {
  const before = await presentPerson(tx, input.person)
  const { count } = await tx.person.updateMany({
    where: { id: input.person, version: input.version },
    data: { name: input.name, nameKey: searchKey(input.name), version: { increment: 1 } },
  })
  requireFresh(count, {
    name: before.name,
    roles: before.roles.map(({ role }) => role).join(', '),
    version: String(before.version),
  })
  await requireNewName(tx, { name: input.name, except: input.person })
  if (!input.roles.includes('manager'))
    await requireOtherManager(tx, { person: input.person, field: 'roles' })
  await tx.personRole.deleteMany({ where: { personId: input.person } })
  await tx.personRole.createMany({ data: input.roles.map((role) => ({ personId: input.person, role })) })
  return {
    answer: {},
    event: { bikeId: null, body: { changed: input.person, name: input.name, roles: input.roles } },
  }
})

export const setPinInput = z.strictObject({ person: idOf, version: versionOf, pin: newPin })

/** A new PIN: whoever was signed in under the old one is signed out, and no waiting time is left over. */
export const setPin = deed('people:change', setPinInput, {
  prepare: async (input, { store }: Context) => ({ pinHash: await hashPin(input.pin, store.pepper) }),
  work: async (input, { tx, now, who, deviceId }, { pinHash }) => {
    const before = await presentPerson(tx, input.person)
    const { count } = await tx.person.updateMany({
      where: { id: input.person, version: input.version },
      data: { pinHash, version: { increment: 1 } },
    })
    requireFresh(count, { version: String(before.version) })
    // Whoever sets their own PIN has just shown who they are: that one session goes on.
    const own = who.personId === input.person && deviceId ? { deviceId: { not: deviceId } } : {}
    await tx.session.updateMany({
      where: { personId: input.person, endedAt: null, ...own },
      data: { endedAt: now },
    })
    await tx.signInDelay.deleteMany({ where: { personId: input.person } })
    return { answer: {}, event: { bikeId: null, body: { newPin: input.person } } }
  },
})

export const personLeftInput = z.strictObject({ person: idOf, version: versionOf })

/**
 * The person has left the shop: signed out everywhere, a device of their own shut out, no longer on the sign-in page,
 * named for ever in what they did.
 */
export const personLeft = deed('people:change', personLeftInput, async (input, { tx, now }) => {
  const before = await presentPerson(tx, input.person)
  await requireOtherManager(tx, { person: input.person, field: '' })
  const { count } = await tx.person.updateMany({
    where: { id: input.person, version: input.version },
    data: { leftAt: now, version: { increment: 1 } },
  })
  requireFresh(count, { version: String(before.version) })
  await tx.session.updateMany({ where: { personId: input.person, endedAt: null }, data: { endedAt: now } })
  const theirs = await tx.device.findMany({ where: { ownerId: input.person, revokedAt: null } })
  for (const { id } of theirs) {
    await tx.device.update({ where: { id }, data: { revokedAt: now, version: { increment: 1 } } })
    await tx.session.updateMany({ where: { deviceId: id, endedAt: null }, data: { endedAt: now } })
  }
  return {
    answer: {},
    event: {
      bikeId: null,
      body: { left: input.person, ...(theirs.length > 0 && { revoked: theirs.map(({ id }) => id) }) },
    },
  }
})

async function presentPerson(tx: Tx, id: string) {
  const person = await tx.person.findFirst({ where: { id, leftAt: null }, include: { roles: true } })
  return person ?? refuse('not-found', 'That person is not here any more.')
}

/** Names are told apart on the sign-in page, so two that read alike are not allowed; those who left count too. */
async function requireNewName(tx: Tx, given: { name: string; except: string | null }): Promise<void> {
  const nameKey = searchKey(given.name)
  if (nameKey === '') refuseField('name', 'Use letters or digits in the name.')
  const other = await tx.person.findFirst({ where: { nameKey, id: { not: given.except ?? '' } } })
  if (other)
    refuseField('name', 'Somebody of that name is or was here. Add a second name to tell them apart.')
}

async function requireOtherManager(tx: Tx, given: { person: string; field: string }): Promise<void> {
  const manager = 'manager' satisfies Role
  const others = await tx.personRole.count({
    where: { role: manager, personId: { not: given.person }, person: { leftAt: null } },
  })
  const self = await tx.personRole.count({ where: { role: manager, personId: given.person } })
  if (others > 0 || self === 0) return
  const message = 'Somebody must remain a manager. Make another person one first.'
  if (given.field) refuseField(given.field, message)
  refuse('rule', message)
}
