import type { NavEntry } from '../../_ui/sub-nav'

export const settingsEntries: readonly NavEntry[] = [
  { href: '/settings', label: 'Figures' },
  { href: '/settings/people', label: 'People and devices' },
  { href: '/settings/limits', label: 'Limits' },
  { href: '/settings/instruments', label: 'Instruments' },
  { href: '/settings/jobs', label: 'Jobs' },
  { href: '/settings/catalogue', label: 'Catalogue' },
]
