import { type ReactNode, useMemo } from 'react'
import { sheetAway } from '../../lib/shop/away-reckoned'
import type { Sheet } from '../../lib/shop/read-sheet'
import type { Entry } from '../_ui/outbox/outbox'
import { isUnsent } from '../_ui/outbox/words'
import type { SeenSheet } from '../(shop)/bikes/[bike]/checks/as-seen-here'
import { photosSeen } from '../(shop)/bikes/[bike]/checks/photos-seen'
import { ShortRound } from '../(shop)/bikes/[bike]/checks/short/short-round'
import { addressOf } from './place'
import type { Here } from './viewing-here'

/** The short round of the shop, on a sheet that is made here and knows all that is known of the bike. */
export function RoundHere({ here: { away, viewing, at }, nav }: { here: Here; nav: ReactNode }) {
  const { id } = viewing.bike
  const { seenWith, add, putAway } = away
  const { pack } = at
  const made = useMemo(() => {
    const see = (entries: readonly Entry[]): SeenSheet => {
      const seen = seenWith(entries)
      const mine = seen.viewings.find(({ bike }) => bike.id === id) ?? viewing
      return asSeen(withoutClearing(sheetAway({ pack, viewing: mine, now: new Date() })), entries)
    }
    return { see, add, putAway, hash: `${addressOf(id, 'round')}/` }
  }, [seenWith, add, putAway, pack, viewing, id])
  const sheet = useMemo(() => withoutClearing(sheetAway(at)), [at])
  return (
    <ShortRound
      sheet={sheet}
      nav={nav}
      madeHere={made}
      after={{ href: addressOf(id, 'deal'), label: 'Look at the deal' }}
    />
  )
}

/** A lock is opened on the server, where all that holds it is known. */
function withoutClearing(sheet: Sheet): Sheet {
  return { ...sheet, person: { ...sheet.person, mayClear: false } }
}

/** The sheet knows already what was recorded here; only what has not arrived is marked. Of photos it shows those that lie here. */
function asSeen(sheet: Sheet, entries: readonly Entry[]): SeenSheet {
  const unsent = new Set(entries.filter(isUnsent).map(({ kept }) => kept.id))
  const { bike, person } = sheet
  return {
    ...sheet,
    rounds: sheet.rounds.map((round) => ({
      ...round,
      needs: round.needs.map((need) => ({ ...need, onItsWay: false })),
      shutHere: [],
      checks: round.checks.map((row) => ({
        ...row,
        readings: row.readings.map((reading) => ({ ...reading, onItsWay: unsent.has(reading.id) })),
        judgedHere: row.readings.some(({ id }) => unsent.has(id)),
        newStops: [],
        photos: photosSeen([], { bike: bike.id, check: row.check.key }, { entries, person }),
      })),
    })),
  }
}
