import { bikeName, numbersOf } from '../_ui/bike-name'
import { countOf, formatInstant } from '../_ui/formats'
import { StageMark } from '../_ui/marks'
import { EmptyState } from '../_ui/notes'
import { PageHead } from '../_ui/page-head'
import { SendingState } from '../(shop)/bikes/[bike]/checks/sending-state'
import { addressOf, newAddress } from './place'
import type { AwayDone } from './use-away'

/** The open viewings on this phone, the latest first, each with where it is. */
export function ViewingList({ away, says }: { away: AwayDone; says: string | null }) {
  const { pack, seen, state } = away
  const { zone } = pack.shop
  const viewings = [...seen.viewings].reverse()
  return (
    <>
      <PageHead
        title="Away from the shop"
        sub="Your open viewings, worked out on this phone. It goes on without a network; what is done here is sent by itself."
      >
        <a href={newAddress} className="btn">
          Take in a viewing
        </a>
      </PageHead>
      <SendingState state={state} putAway={away.putAway} />
      {viewings.length === 0 ? (
        <EmptyState title="No open viewing of yours">
          One that you take in, here or at the shop, stands here until it is bought or passed up.
        </EmptyState>
      ) : (
        <ul aria-label="Viewings on this phone" className="flex flex-col border-t border-rule">
          {viewings.map(({ bike }) => (
            <li key={bike.id} className="flex flex-col gap-1 border-b border-rule py-3">
              <a href={addressOf(bike.id, 'deal')} className="tap text-lg font-semibold">
                {bikeName(bike)}
              </a>
              <p className="flex flex-wrap items-center gap-x-4 gap-y-1">
                <StageMark stage={bike.stage} />
                <span className="text-soft">{numbersOf(bike)}</span>
                <WhereItIs away={away} bike={bike.id} />
              </p>
            </li>
          ))}
        </ul>
      )}
      <p className="text-soft">
        {says && `${says} `}Prices and facts of the shop as on {formatInstant(pack.asOf, zone)}, kept here
        until {formatInstant(pack.expiresAt, zone)}. <a href="/">To the shop</a>
      </p>
    </>
  )
}

/** Said only of what is so: on the server is what it has confirmed. */
export function WhereItIs({ away, bike }: { away: AwayDone; bike: string }) {
  const open = away.open(bike)
  const refused = open.filter(({ state }) => state === 'refused').length
  const unsent = open.length - refused
  if (refused > 0) {
    return (
      <strong className="text-plum">
        Needs a look: {countOf(refused, 'thing')} the server did not take. All of it is kept here.
      </strong>
    )
  }
  if (unsent > 0) return <span className="font-semibold">On this phone, {unsent} not sent yet</span>
  return <span className="text-soft">On the server</span>
}
