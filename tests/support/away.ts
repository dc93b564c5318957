import { uuidv7 } from 'uuidv7'
import type { Away } from '../../lib/shop/away-reckoned'
import { type DeedAway, type Seen, seenAway } from '../../lib/shop/away-viewings'
import type { Context, Who } from '../../lib/shop/deed'
import { type Pack, packOf, packText } from '../../lib/shop/pack'
import { readPack } from '../../lib/shop/read-pack'
import { type SyncAnswer, type SyncOperation, sync } from '../../lib/shop/sync'
import type { OpenShop } from './open-shop'

/* A dealer's own phone: what it keeps, what is done on it, and what it sends. */

export const signedIn = (context: Context): Context & { who: Who } => ({ ...context, who: context.who! })

/** Makes the test's device that person's own. */
export async function makeOwn({ store, deviceId }: Pick<OpenShop, 'store' | 'deviceId'>, context: Context) {
  await store.db.device.update({ where: { id: deviceId }, data: { ownerId: context.who!.personId } })
}

/** The pack as it comes out of the answer's text. */
export async function packFor(context: Context): Promise<Pack> {
  const pack = packOf(packText(await readPack(signedIn(context))))
  if (!pack) throw new Error('The pack does not come out of its text.')
  return pack
}

export class Phone {
  deeds: DeedAway[] = []
  constructor(
    public pack: Pack,
    private context: Context,
  ) {}

  do(deed: string, body: Record<string, unknown>): DeedAway {
    const one = { id: typeof body.id === 'string' ? body.id : uuidv7(), deed, body }
    this.deeds.push(one)
    return one
  }

  get seen(): Seen {
    return seenAway(this.pack, this.deeds)
  }

  /** One viewing as the phone knows it now. */
  at(bike: string): Away {
    const { pack, seen } = this
    const viewing = seen.viewings.find((one) => one.bike.id === bike)
    if (!viewing) throw new Error(`The phone knows no viewing ${bike}.`)
    return { pack, seen, viewing, now: this.context.now }
  }

  operations(): SyncOperation[] {
    const author = this.context.who!.personId
    // Through text, as it goes over the network.
    return JSON.parse(JSON.stringify(this.deeds.map((one) => ({ ...one, author })))) as SyncOperation[]
  }

  send(as: Context = this.context): Promise<SyncAnswer[]> {
    return sync({ operations: this.operations() }, signedIn(as))
  }
}
