import { uuidv7 } from 'uuidv7'
import { typedMoney } from '../../lib/core/quantity/typed-money'
import { sayPricesInput, takeInBikeInput } from '../../lib/shop/bike-fields'
import { noteComparableInput } from '../../lib/shop/comparable-fields'
import { parseInput } from '../../lib/shop/parse-input'
import type { Kept } from '../_ui/outbox/outbox'

/* What a form says as it is kept and sent: checked by the schema that checks it on the server, and sent as typed. */

type Typed = Readonly<Record<string, unknown>>

type Said = { author: string; deed: string; body: Typed; label: string; typed: string }

export function kept({ author, deed, body, label, typed }: Said): Kept {
  return { id: uuidv7(), author, to: 'sync', deed, body, label, typed }
}

/** @throws Refusal with a message at each field */
export function keptViewing(author: string, input: Typed): { kept: Kept; bike: string } {
  const bike = uuidv7()
  const body = { ...input, id: bike }
  const { make, model } = parseInput(takeInBikeInput, body)
  return {
    bike,
    kept: kept({ author, deed: 'take-in-viewing', body, label: 'Viewing', typed: `${make} ${model}` }),
  }
}

/** @throws Refusal with a message at each field */
export function keptPrice(author: string, input: Typed): Kept {
  const body = { ...input, id: uuidv7() }
  const { price, asked } = parseInput(noteComparableInput, body)
  return kept({
    author,
    deed: 'note-price',
    body,
    label: 'Price noted',
    typed: `${typedMoney(price)} ${asked}`,
  })
}

/** @throws Refusal with a message at each field */
export function keptSaid(author: string, body: Typed): Kept {
  const { asking, saleLikely } = parseInput(sayPricesInput, body)
  const said = [
    asking !== null && `asked ${typedMoney(asking)}`,
    saleLikely !== null && `likely ${typedMoney(saleLikely)}`,
  ]
  return kept({
    ...{ author, deed: 'say-prices', body, label: 'Prices of the bike' },
    typed: said.filter(Boolean).join(', ') || 'none',
  })
}
