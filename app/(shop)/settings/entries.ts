import type { NavEntry } from '../../_ui/sub-nav'

export const settingsEntries: readonly NavEntry[] = [
  { href: '/settings', label: 'Figures' },
  { href: '/settings/learned', label: 'Learned chances', from: 'tablet' },
  { href: '/settings/learned-hours', label: 'Learned hours', from: 'tablet' },
  { href: '/settings/bench', label: 'Bench', from: 'tablet' },
  { href: '/settings/people', label: 'People and devices', from: 'tablet' },
  { href: '/settings/limits', label: 'Limits', from: 'tablet' },
  { href: '/settings/instruments', label: 'Instruments', from: 'tablet' },
  { href: '/settings/jobs', label: 'Jobs', from: 'tablet' },
  { href: '/settings/catalogue', label: 'Catalogue', from: 'tablet' },
]
