import { whoMay } from '../../../../lib/shop/who-may'
import { type NavEntry, SubNav } from '../../../_ui/sub-nav'

export type BikePage =
  | 'bike'
  | 'short'
  | 'checks'
  | 'identity'
  | 'bench'
  | 'parts'
  | 'rides'
  | 'work'
  | 'deal'
  | 'prices'
  | 'offer'
  | 'story'

/** The pages of one bike that a person may see, in the order of the job. */
export function BikeNav({
  viewingNo,
  current,
  who,
}: {
  viewingNo: number
  current: BikePage
  who: Parameters<typeof whoMay>[0]
}) {
  const at = `/bikes/${viewingNo}`
  const entries = entriesFor(who)
  return (
    <SubNav
      label="This bike"
      entries={entries.map(({ page, ...entry }) => ({ ...entry, href: at + paths[page] }))}
      current={at + paths[current]}
    />
  )
}

function entriesFor(who: Parameters<typeof whoMay>[0]): readonly Entry[] {
  if (whoMay(who, 'money:see')) return pagesForMoney
  // On the seller's side it is his sheet that the phone was handed over for.
  return whoMay(who, 'offer:show') ? pagesForSeller : pagesForBench
}

const paths: Record<BikePage, string> = {
  bike: '',
  short: '/checks/short',
  checks: '/checks',
  identity: '/identity',
  bench: '/bench',
  parts: '/parts',
  rides: '/rides',
  work: '/work',
  deal: '/deal',
  prices: '/prices',
  offer: '/offer',
  story: '/story',
}

type Entry = Omit<NavEntry, 'href'> & { page: BikePage }

const whole = 'The whole'
const look = 'Look it over'
const right = 'Put it right'
const money = 'Money'

/** A phone has room for the bike and the page this person comes back to most; the rest is in the index. */
const pagesForMoney: readonly Entry[] = [
  { page: 'bike', label: 'Bike', group: whole },
  { page: 'short', label: 'Short round', group: look, from: 'desk' },
  { page: 'checks', label: 'Checks', group: look, from: 'tablet' },
  { page: 'identity', label: 'Identity', group: look, from: 'tablet' },
  { page: 'bench', label: 'Bench', group: right, from: 'tablet' },
  { page: 'parts', label: 'Parts', group: right, from: 'desk' },
  { page: 'rides', label: 'Rides', group: right, from: 'desk' },
  { page: 'work', label: 'Work', group: right, from: 'tablet' },
  { page: 'deal', label: 'Deal', group: money, from: 'wide-phone' },
  { page: 'prices', label: 'Prices', group: money, from: 'desk' },
  { page: 'offer', label: 'Offer', group: money, from: 'desk' },
  { page: 'story', label: 'Story', group: whole, from: 'tablet' },
]

const pagesForBench: readonly Entry[] = [
  { page: 'bike', label: 'Bike', group: whole },
  { page: 'short', label: 'Short round', group: look, from: 'tablet' },
  { page: 'checks', label: 'Checks', group: look, from: 'wide-phone' },
  { page: 'identity', label: 'Distance', group: look, from: 'tablet' },
  { page: 'bench', label: 'Bench', group: right, from: 'tablet' },
  { page: 'parts', label: 'Parts', group: right, from: 'tablet' },
  { page: 'rides', label: 'Rides', group: right, from: 'desk' },
  { page: 'story', label: 'Story', group: whole, from: 'tablet' },
]

const pagesForSeller: readonly Entry[] = [
  { page: 'bike', label: 'Bike', group: whole },
  { page: 'offer', label: 'Offer', group: money, from: 'wide-phone' },
  ...pagesForBench
    .filter(({ page }) => page !== 'bike')
    .map((entry): Entry => ({ ...entry, from: entry.from === 'wide-phone' ? 'tablet' : entry.from })),
]
