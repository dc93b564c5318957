import type { Context, Who } from './deed'

/** What the shop knows of the device that asks. */
export type DeviceShown = {
  name: string
  /** Whose own it is; null for one of the bench. */
  owner: string | null
  /** Names of who was signed in here at some time and still works here: their work goes in under their names. */
  people: readonly { id: string; name: string }[]
  zone: string
}

export async function readDevice({ store, deviceId }: Context & { who: Who }): Promise<DeviceShown> {
  const { db } = store
  const [shop, device, people] = await Promise.all([
    db.shop.findFirstOrThrow({ select: { zone: true } }),
    db.device.findUnique({ where: { id: deviceId ?? '' }, select: { name: true, ownerId: true } }),
    db.person.findMany({
      where: { leftAt: null, sessions: { some: { deviceId: deviceId ?? '' } } },
      select: { id: true, name: true },
      orderBy: { name: 'asc' },
    }),
  ])
  return {
    name: device?.name ?? 'This device',
    owner: people.find(({ id }) => id === device?.ownerId)?.name ?? null,
    people,
    zone: shop.zone,
  }
}
