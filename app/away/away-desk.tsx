'use client'

import './plain-schemas'

import { useEffect, useRef } from 'react'
import type { Pack } from '../../lib/shop/pack'
import type { Kept } from '../_ui/outbox/outbox'
import { BesideSeller } from './beside-seller'
import { NewViewing } from './new-viewing'
import { NothingKept } from './nothing-kept'
import { usePlace } from './place'
import { useAway, usePack } from './use-away'
import { ViewingHere } from './viewing-here'
import { ViewingList } from './viewing-list'

/** Everything of a viewing where no network is, out of what this phone keeps. */
export function AwayDesk() {
  const { opened, locked, renew } = usePack()
  if (opened.is === 'opening') return <p role="status">Opening what this phone keeps …</p>
  if (opened.is === 'nothing') return <NothingKept says={opened.says} signedOut={opened.signedOut} />
  const { pack, done, says } = opened
  return <Opened key={pack.person.id} {...{ pack, done, says, locked, renew }} />
}

function Opened({
  pack,
  done,
  says,
  locked,
  renew,
}: {
  pack: Pack
  done: readonly Kept[]
  says: string | null
  locked: boolean
  renew: () => Promise<void>
}) {
  const away = useAway({ pack, done }, renew)
  const place = usePlace()
  const top = useRef<HTMLDivElement>(null)
  const first = useRef(true)
  const where = place.at === 'viewing' ? `${place.bike} ${place.part}` : place.at

  // biome-ignore lint/correctness/useExhaustiveDependencies: another place is another page to whoever reads it.
  useEffect(() => {
    if (!first.current) {
      top.current?.focus({ preventScroll: true })
      window.scrollTo(0, 0)
    }
    first.current = false
  }, [where])

  return (
    <div ref={top} tabIndex={-1} className="flex flex-col gap-6 outline-none">
      {locked ? <BesideSeller away={away} place={place} /> : <At away={away} place={place} says={says} />}
    </div>
  )
}

function At({
  away,
  place,
  says,
}: {
  away: ReturnType<typeof useAway>
  place: ReturnType<typeof usePlace>
  says: string | null
}) {
  switch (place.at) {
    case 'list':
      return <ViewingList away={away} says={says} />
    case 'new':
      return <NewViewing away={away} />
    case 'viewing':
      return <ViewingHere key={place.bike} away={away} bike={place.bike} part={place.part} />
  }
}
