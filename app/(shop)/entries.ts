import { mayDo, type Role } from '../../lib/shop/who-may'
import { type Page, pages } from '../../lib/web/pages'
import type { NavEntry } from '../_ui/sub-nav'

/** The pages that stand in the navigation, in the order of the work; each role sees those it may open. */
const entries: readonly { page: Page; label: string; from?: NavEntry['from'] }[] = [
  { page: '/queue', label: 'Queue' },
  { page: '/bench', label: 'Bench plan', from: 'tablet' },
  { page: '/board', label: 'Board' },
  { page: '/bikes/new', label: 'New viewing' },
  { page: '/bikes', label: 'Bikes' },
  { page: '/parts', label: 'Parts', from: 'tablet' },
  { page: '/bench/today', label: 'Today' },
  { page: '/settings', label: 'Settings', from: 'tablet' },
]

export function entriesFor(roles: readonly Role[]): NavEntry[] {
  return entries
    .filter(({ page }) => {
      const verb = pages[page]
      // Whoever sees the whole plan goes on to today's part of it from there.
      if (page === '/bench/today' && mayDo(roles, pages['/bench'])) return false
      return verb === 'anyone' || mayDo(roles, verb)
    })
    .map(({ page, label, from }) => ({ href: page, label, from }))
}

/** Where a day begins: what comes next for a manager, the ranking for a dealer, the bikes for a technician. */
export function startOf(roles: readonly Role[]): Page {
  if (roles.includes('manager')) return '/queue'
  return roles.includes('dealer') ? '/board' : '/bikes'
}
