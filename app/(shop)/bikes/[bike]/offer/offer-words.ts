import type { Call } from '../../../../../lib/core/checks/catalogue'
import type { CounterSide } from '../../../../../lib/shop/counter-offer'

/** What each call means to somebody who sells the bike. */
export const callWords: Record<Call, string> = {
  stop: 'Not safe as it is',
  must: 'Must be put right before it is sold on',
  pays: 'Worth putting right',
  leave: 'May stay as it is',
}

export const saidWords: Record<CounterSide, string> = {
  seller: 'The seller said',
  shop: 'The shop said',
}
