import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Store } from '../../data/store'
import { makeFirstDayCode } from '../../shop/codes'
import type { Context } from '../../shop/deed'
import { openShop } from '../../shop/open-shop'
import { addPerson } from '../../shop/people'
import { demoFile, readDemoPeople } from '../../shop/read-sign-in'
import type { Role } from '../../shop/who-may'
import { setUpBench } from './bench'
import { must } from './must'
import { knowSuppliers } from './parts'
import { stories } from './stories'
import { type Staff, tell } from './tell'

const zone = 'Europe/London'

/** Invented people. Their PINs are shown on the sign-in page of the demo. */
const people = [
  { name: 'Maren', pin: '240681', roles: ['manager', 'dealer'] },
  { name: 'Idris', pin: '350792', roles: ['dealer'] },
  { name: 'Wyn', pin: '461803', roles: ['technician'] },
] as const satisfies readonly { name: string; pin: string; roles: readonly Role[] }[]

const openedDaysAgo = 60

/** The invented shop, made now where the store is empty. */
export async function ensureDemo(store: Store, say: (line: string) => void): Promise<void> {
  if (!(await store.db.shop.findFirst())) return makeDemo(store, new Date(), say)
  if (!(await readDemoPeople(store))) {
    throw new Error('The invented shop was only half made. Make it anew: npm run demo -- --fresh')
  }
}

/**
 * Makes the invented shop in an empty store, told through the same deeds as a person would use, at days counted
 * back from `made`.
 */
export async function makeDemo(store: Store, made: Date, say: (line: string) => void): Promise<void> {
  const opened = new Date(made.getTime() - openedDaysAgo * 24 * 3600 * 1000)
  const nobody: Context = { store, now: opened, who: null, deviceId: null }
  const [maren, idris, wyn] = people
  const first = must(
    await openShop(
      {
        code: await makeFirstDayCode(store, opened),
        shopName: 'Tern Yard Motorcycles',
        currency: 'GBP',
        lengthUnit: 'mi',
        zone,
        country: 'GB',
        taxScheme: 'margin',
        taxRate: '20',
        labourCost: '52',
        personName: maren.name,
        pin: maren.pin,
        deviceName: 'Office',
      },
      nobody,
    ),
  )
  const { deviceId } = first
  const as = (given: { personId: string; name: string; roles: readonly Role[] }): Context => ({
    store,
    now: opened,
    deviceId,
    who: { ...given, deviceId },
  })
  const manager = as({ personId: first.personId, name: maren.name, roles: maren.roles })
  const take = async ({ name, pin, roles }: (typeof people)[number]) => {
    const { person } = must(await addPerson({ name, pin, roles: [...roles] }, manager))
    return as({ personId: person, name, roles })
  }
  const staff: Staff = { manager, dealer: await take(idris), technician: await take(wyn) }
  await knowSuppliers(manager)
  await setUpBench(staff, { zone, made })
  for (const [index, story] of stories.entries()) {
    say(`Telling story ${index + 1} of ${stories.length}: ${story.bike.make} ${story.bike.model}`)
    await tell(story, { staff, zone, made })
  }
  const shown = people.map(({ name, pin }) => ({ name, pin }))
  await writeFile(join(store.folder, demoFile), JSON.stringify({ people: shown }, null, 2))
}
