import type { Condition, Market } from '../../../../../lib/core/deal/comparables'
import type { PriceNoted } from '../../../../../lib/shop/read-comparables'
import { formatDistance } from '../../../../_ui/distance-words'
import { countOf, formatDay, formatNumber, formatShare } from '../../../../_ui/formats'

export const marketWords: Record<Market, string> = {
  private: 'Private seller',
  trade: 'Dealer',
  auction: 'Auction',
}

export const conditionWords: Record<Condition, { label: string; hint: string }> = {
  rough: { label: 'Rough', hint: 'Much to put right before anybody would want it.' },
  worn: { label: 'Worn', hint: 'Used and shows it; nothing broken.' },
  tidy: { label: 'Tidy', hint: 'Clean, in order, small marks.' },
  'very good': { label: 'Very good', hint: 'Hard to find fault with.' },
}

/** How much a note counts, in words: 1 is a dealer's sale of the very same bike, today. */
export function weightWords(weight: number): string {
  if (weight >= 0.6) return 'Counts fully'
  if (weight >= 0.3) return 'Counts well'
  if (weight >= 0.1) return 'Counts a little'
  return weight > 0 ? 'Hardly counts' : 'Does not count'
}

/** What was noted: Dealer, asked, 1998, 21,400 miles, tidy. */
export function notedWords(note: PriceNoted): string {
  const { market, asked, year, distance, distanceUnit, condition } = note
  return [
    marketWords[market],
    asked ? 'asked' : 'sold',
    year === null ? 'year not known' : String(year),
    distance === null ? 'distance not known' : formatDistance(distance, distanceUnit),
    condition ?? 'condition not known',
  ].join(', ')
}

export function seenWords({ asked, firstSeenOn, lastSeenOn }: PriceNoted): string {
  if (!asked) return `Sold ${formatDay(lastSeenOn)}`
  if (firstSeenOn === lastSeenOn) return `Seen ${formatDay(lastSeenOn)}`
  return `Seen from ${formatDay(firstSeenOn)} to ${formatDay(lastSeenOn)}`
}

/** Why it says the price it says of this bike. */
export function valueReasons({ asked, market, monthsStood, times }: PriceNoted): string[] {
  const reasons: string[] = []
  if (asked) {
    const stood = monthsStood > 0 ? `, having stood ${countOf(monthsStood, 'month')}` : ''
    reasons.push(`${formatShare(times.sold)} of what was asked is reckoned paid${stood}`)
  }
  if (times.toRetail !== 1)
    reasons.push(`× ${formatNumber(times.toRetail)} from ${pricesOf[market]} to a shop’s`)
  if (Math.abs(times.season - 1) >= 0.005)
    reasons.push(`× ${formatNumber(times.season)} for the season it will be sold in`)
  return reasons.length > 0 ? reasons : ['as it stands']
}

const pricesOf: Record<Market, string> = {
  private: 'a private price',
  trade: 'a dealer’s price',
  auction: 'an auction’s price',
}

/** Why it counts as much as it does. */
export function weightReasons({ apart, daysOld, distanceUnit, counts }: PriceNoted): string[] {
  const { years, km, steps } = apart
  const reasons = [daysOld === 0 ? 'seen today' : `${countOf(daysOld, 'day')} old`]
  if (years === null) reasons.push('year not known')
  else if (years !== 0) reasons.push(`${countOf(Math.abs(years), 'year')} ${years > 0 ? 'newer' : 'older'}`)
  if (km === null) reasons.push('distance not known')
  else if (Math.abs(km) >= 500) reasons.push(`${distanceApart(km, distanceUnit)} ${km > 0 ? 'more' : 'less'}`)
  if (steps === null) reasons.push('condition not known')
  else if (steps !== 0)
    reasons.push(`${countOf(Math.abs(steps), 'step')} ${steps > 0 ? 'better' : 'worse'} in condition`)
  if (counts.market !== 1) reasons.push(`its market counts ${formatNumber(counts.market)}`)
  return reasons
}

const kmAMile = 1.609344

function distanceApart(km: number, unit: 'mi' | 'km'): string {
  const distance = Math.abs(km) / (unit === 'mi' ? kmAMile : 1)
  return formatDistance(Math.round(distance / 100) * 100, unit)
}
