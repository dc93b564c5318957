import { mayDo, type Role } from '../../lib/shop/who-may'
import { type Page, pages } from '../../lib/web/pages'
import type { NavEntry } from '../_ui/sub-nav'

/** The pages that stand in the navigation, in the order of the work; each role sees those it may open. */
const entries: readonly { page: Page; label: string }[] = [
  { page: '/queue', label: 'Queue' },
  { page: '/board', label: 'Board' },
  { page: '/bikes/new', label: 'New viewing' },
  { page: '/bikes', label: 'Bikes' },
  { page: '/parts', label: 'Parts' },
  { page: '/settings', label: 'Settings' },
]

export function entriesFor(roles: readonly Role[]): NavEntry[] {
  return entries
    .filter(({ page }) => {
      const verb = pages[page]
      return verb === 'anyone' || mayDo(roles, verb)
    })
    .map(({ page, label }) => ({ href: page, label }))
}

/** Where a day begins: what comes next for a manager, the ranking for a dealer, the bikes for a technician. */
export function startOf(roles: readonly Role[]): Page {
  if (roles.includes('manager')) return '/queue'
  return roles.includes('dealer') ? '/board' : '/bikes'
}
