import type { Role } from '../../../../lib/shop/who-may'
import { mayDo } from '../../../../lib/shop/who-may'
import { SubNav } from '../../../_ui/sub-nav'

export type BikePage =
  | 'bike'
  | 'short'
  | 'checks'
  | 'identity'
  | 'bench'
  | 'rides'
  | 'work'
  | 'deal'
  | 'story'

/** The pages of one bike that a person may see. */
export function BikeNav({
  viewingNo,
  current,
  roles,
}: {
  viewingNo: number
  current: BikePage
  roles: readonly Role[]
}) {
  const at = `/bikes/${viewingNo}`
  const checks = `${at}/checks`
  const hrefs = {
    bike: at,
    short: `${checks}/short`,
    checks,
    identity: `${at}/identity`,
    bench: `${at}/bench`,
    rides: `${at}/rides`,
    work: `${at}/work`,
    deal: `${at}/deal`,
    story: `${at}/story`,
  }
  const money = mayDo(roles, 'money:see')
  const entries = [
    { href: hrefs.bike, label: 'Bike' },
    { href: hrefs.short, label: 'Short round' },
    { href: hrefs.checks, label: 'Checks' },
    { href: hrefs.identity, label: money ? 'Identity' : 'Distance' },
    { href: hrefs.bench, label: 'Bench' },
    { href: hrefs.rides, label: 'Rides' },
    ...(money
      ? [
          { href: hrefs.work, label: 'Work' },
          { href: hrefs.deal, label: 'Deal' },
        ]
      : []),
    { href: hrefs.story, label: 'Story' },
  ]
  return <SubNav label="This bike" entries={entries} current={hrefs[current]} />
}
