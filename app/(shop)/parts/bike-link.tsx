import Link from 'next/link'
import type { BikeHead } from '../../../lib/shop/bike-head'
import { bikeName } from '../../_ui/bike-name'

/** The bike something is for, by name and number; leads to its parts. */
export function BikeLink({ bike }: { bike: BikeHead }) {
  return (
    <Link href={`/bikes/${bike.viewingNo}/parts`} className="tap">
      {bikeWords(bike)}
    </Link>
  )
}

/** "Calder 600 four, 1997 (3)": the number tells two of a kind apart. */
export function bikeWords(bike: BikeHead): string {
  return `${bikeName(bike)} (${bike.viewingNo})`
}
