import { type Check, standPlaces } from './catalogue'

/**
 * The checks of one round in the order one walks round the bike: what comes before anything else first, then place by
 * place, and those without a place of their own last. At one place, and in a round without places, the order of the
 * catalogue holds, which is the one that keeps hands safe and clean (common practice, no source).
 */
export function inWalkingOrder<T extends { check: Pick<Check, 'standAt'> }>(rows: readonly T[]): T[] {
  const placeOf = ({ check }: T) => (check.standAt ? standPlaces.indexOf(check.standAt) : standPlaces.length)
  return [...rows].sort((a, b) => placeOf(a) - placeOf(b))
}
