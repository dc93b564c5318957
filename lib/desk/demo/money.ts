import { uuidv7 } from 'uuidv7'
import { addDays } from '../../core/quantity/days'
import { noteComparable } from '../../shop/comparables'
import type { Context } from '../../shop/deed'
import { noteOtherWays, readOtherWays } from '../../shop/other-ways'
import { must } from './must'
import type { Happening } from './story'

type Told = { bike: string; context: Context; today: string }

/** Prices noted of similar bikes, and what this one would bring as it stands. */
export async function tellMoney(
  happening: Extract<Happening, { did: 'price' | 'ways' }>,
  { bike, context, today }: Told,
): Promise<void> {
  switch (happening.did) {
    case 'price': {
      const {
        market,
        asked,
        price,
        year,
        distance,
        condition,
        lastSeen = 0,
        stood = 0,
        note = '',
      } = happening
      const lastSeenOn = addDays(today, -lastSeen)
      const seen = { firstSeenOn: addDays(lastSeenOn, -stood), lastSeenOn }
      const noted = { market, asked, price, ...seen, year, distance, distanceUnit: 'mi', condition, note }
      must(await noteComparable({ id: uuidv7(), bike, link: '', ...noted }, context))
      return
    }
    case 'ways': {
      const { trade, parts } = happening
      const { version } = await readOtherWays(context.store.db, bike)
      const noted = {
        trade: threeOf(trade),
        parts: threeOf(parts?.value),
        stripHours: parts?.stripHours ?? '',
        breakCost: parts?.costs ?? '',
        ...(parts && { wastePermit: 'yes', registryNotice: 'yes' }),
      }
      must(await noteOtherWays({ bike, version, ...noted }, context))
    }
  }
}

function threeOf(three: readonly [string, string, string] | undefined) {
  const [low, likely, high] = three ?? ['', '', '']
  return { low, likely, high }
}
