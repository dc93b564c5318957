import { uuidv7 } from 'uuidv7'
import { registers } from '../../core/checks/money-gate'
import { addDays } from '../../core/quantity/days'
import type { Context } from '../../shop/deed'
import { noteDistance, withdrawDistance } from '../../shop/distances'
import { noteIdentity, noteRegister } from '../../shop/identity'
import { must } from './must'
import type { Happening, Story } from './story'

type Told = { bike: string; context: Context; today: string }

const askedOf = 'the register, by its own web form'

/** What registers answered, what was seen of seller and numbers, and what papers say of the distance. */
export async function tellPapers(
  happening: Extract<Happening, { did: 'register' | 'identity' | 'distance' }>,
  { bike, context, today }: Told,
): Promise<void> {
  const id = uuidv7()
  switch (happening.did) {
    case 'register': {
      const { register, answer, amount = '', note = '' } = happening
      must(await noteRegister({ id, bike, register, askedOf, day: today, answer, amount, note }, context))
      return
    }
    case 'identity': {
      const { point, answer, note = '' } = happening
      must(await noteIdentity({ id, bike, point, answer, note }, context))
      return
    }
    case 'distance': {
      const { before, distance, unit, source, note = '', withdrawn } = happening
      const day = addDays(today, -before)
      must(await noteDistance({ id, bike, day, distance, unit, source, note }, context))
      if (withdrawn) must(await withdrawDistance({ point: id, reason: withdrawn }, context))
    }
  }
}

/** What must be known before money is paid: registers asked, seller, numbers and keys seen, two older papers. */
export async function clearForBuying({ story, ...told }: Told & { story: Story }): Promise<void> {
  const { bike, context, today } = told
  for (const register of registers) {
    must(await noteRegister({ id: uuidv7(), bike, register, askedOf, day: today, answer: 'clear' }, context))
  }
  const seen = {
    'seller-identity': 'seen',
    'right-to-sell': 'keeper-and-payee',
    'frame-number': 'same',
    keys: 'counted',
  } as const
  for (const [point, answer] of Object.entries(seen)) {
    must(await noteIdentity({ id: uuidv7(), bike, point, answer }, context))
  }
  if (story.happenings.some(({ did }) => did === 'distance')) return
  const papers = [
    { share: 0.8, before: 790, source: 'inspection' },
    { share: 0.92, before: 410, source: 'service' },
  ]
  const { distance, distanceUnit: unit = 'mi' } = story.bike
  for (const { share, before, source } of papers) {
    const then = Math.round(Number(distance) * share).toString()
    const noted = { day: addDays(today, -before), distance: then, unit, source }
    must(await noteDistance({ id: uuidv7(), bike, ...noted }, context))
  }
}
