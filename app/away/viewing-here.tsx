import { useMemo, useState } from 'react'
import type { Away } from '../../lib/shop/away-reckoned'
import { shopOf, type ViewingInPack } from '../../lib/shop/pack'
import { bikeName, numbersOf } from '../_ui/bike-name'
import { StageMark } from '../_ui/marks'
import { EmptyState } from '../_ui/notes'
import { PageHead } from '../_ui/page-head'
import { SendingState } from '../(shop)/bikes/[bike]/checks/sending-state'
import { DealHere } from './deal-here'
import { OfferHere, SheetForSeller } from './offer-here'
import { addressOf, listAddress, type PartOfViewing } from './place'
import { PricesHere } from './prices-here'
import { RoundHere } from './round-here'
import type { AwayDone } from './use-away'
import { WhereItIs } from './viewing-list'

const parts: readonly { part: PartOfViewing; label: string }[] = [
  { part: 'round', label: 'Short round' },
  { part: 'prices', label: 'Prices noted' },
  { part: 'deal', label: 'Deal' },
  { part: 'offer', label: 'Offer' },
]

export type Here = { away: AwayDone; viewing: ViewingInPack; at: Away; today: string }

/** One viewing: the round, the prices, the deal and the offer, all worked out here. */
export function ViewingHere({ away, bike, part }: { away: AwayDone; bike: string; part: PartOfViewing }) {
  const { pack, seen } = away
  // The day and hour it is worked out for: that of the last thing that changed, so that a figure stands while it is read.
  const [asked, setAsked] = useState(() => ({ seen, now: new Date() }))
  if (asked.seen !== seen) setAsked({ seen, now: new Date() })
  const { now } = asked
  const viewing = seen.viewings.find((one) => one.bike.id === bike)
  const at = useMemo(() => viewing && { pack, seen, viewing, now }, [pack, seen, viewing, now])
  if (!viewing || !at) {
    return (
      <EmptyState
        title="This viewing is not kept here"
        action={
          <a href={listAddress} className="btn">
            To the viewings
          </a>
        }
      >
        It was bought or passed up, or somebody else took it in.
      </EmptyState>
    )
  }
  const here: Here = { away, viewing, at, today: shopOf(pack, now).today }
  if (part === 'sheet') return <SheetForSeller here={here} />
  const nav = <PartNav bike={bike} current={part} />
  if (part === 'round') return <RoundHere here={here} nav={nav} />
  return (
    <>
      <PageHead title={bikeName(viewing.bike)} sub={numbersOf(viewing.bike)}>
        <StageMark stage={viewing.bike.stage} />
        <WhereItIs away={away} bike={bike} />
      </PageHead>
      {nav}
      <SendingState state={away.state} putAway={away.putAway} />
      {part === 'prices' && <PricesHere here={here} />}
      {part === 'deal' && <DealHere here={here} />}
      {part === 'offer' && <OfferHere here={here} />}
    </>
  )
}

function PartNav({ bike, current }: { bike: string; current: PartOfViewing }) {
  return (
    <nav aria-label="Parts of this viewing" className="no-print border-y border-rule">
      <ul className="flex flex-wrap gap-x-2">
        <li>
          <a href={listAddress} className="tap px-2">
            All viewings
          </a>
        </li>
        {parts.map(({ part, label }) => (
          <li key={part}>
            <a
              href={addressOf(bike, part)}
              aria-current={part === current ? 'page' : undefined}
              className="tap px-2 aria-[current]:font-semibold aria-[current]:text-ink aria-[current]:no-underline"
            >
              {label}
            </a>
          </li>
        ))}
      </ul>
    </nav>
  )
}
