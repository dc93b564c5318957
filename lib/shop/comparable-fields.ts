import { z } from 'zod'
import { conditions, markets } from '../core/deal/comparables'
import { typedMoney } from '../core/quantity/typed-money'
import { bikeFacts } from './bike-fields'
import { dayOf, idOf, lineOrNull, moneyOf, most } from './fields'
import { conditionNotKnown, type NotedRow } from './noted-prices'
import { refuseField } from './refusal'

/* What is noted of a price of a similar bike, by form, by table and away from the shop. */

export const mostLink = 500

const link = lineOrNull(mostLink).refine(
  (typed) => typed === null || (/^https?:\/\/\S+$/i.test(typed) && URL.canParse(typed)),
  'Give the whole address of the advert, beginning with https://, or leave it empty.',
)

/** What is noted of a price, as a form or a table sends it. */
export const comparableFacts = {
  market: z.enum(markets, { error: 'Say who sells it: a private person, the trade or an auction.' }),
  asked: z.enum(['asked', 'sold'], { error: 'Say whether this was asked or paid.' }),
  price: moneyOf('Give the price.').refine((minor) => minor > 0, 'Give a price above nothing.'),
  /** Left empty it was first seen on the day it was last seen. */
  firstSeenOn: z.union([z.literal('').transform(() => null), dayOf]).default(null),
  lastSeenOn: dayOf,
  year: bikeFacts.year,
  distance: bikeFacts.distance,
  distanceUnit: bikeFacts.distanceUnit,
  condition: z
    .enum([...conditions, conditionNotKnown], { error: 'Choose a step of condition.' })
    .default(conditionNotKnown),
  link,
  note: lineOrNull(most.line),
}

/** For this bike alone, and not for its make and model. */
export const alone = z.union([z.boolean(), z.literal('yes').transform(() => true)]).default(false)

const factsInput = z.strictObject(comparableFacts)
export type ComparableTyped = z.output<typeof factsInput>

export const noteComparableInput = z.strictObject({ id: idOf, bike: idOf, alone, ...comparableFacts })

/** The columns that hold what was typed; refused where the days cannot be. */
export function comparableColumns(typed: ComparableTyped, today: string) {
  const { asked, price, firstSeenOn, lastSeenOn, link, note, ...plain } = typed
  if (lastSeenOn > today) refuseField('lastSeenOn', 'That day is still to come.')
  if (firstSeenOn !== null && firstSeenOn > lastSeenOn)
    refuseField('firstSeenOn', 'It was first seen after it was last seen. Look at both days.')
  return {
    ...plain,
    asked: asked === 'asked',
    priceMinor: price,
    firstSeenOn: firstSeenOn ?? lastSeenOn,
    lastSeenOn,
    link: link ?? '',
    note: note ?? '',
  }
}

/** A noted price by the names of the form's fields, as a person would have typed it. */
export function comparableAsTyped(row: Omit<NotedRow, 'personId' | 'at'>): Record<string, string> {
  return {
    alone: row.bikeId === null ? 'not ticked' : 'ticked',
    market: row.market,
    asked: row.asked ? 'asked' : 'sold',
    price: typedMoney(row.priceMinor),
    firstSeenOn: row.firstSeenOn,
    lastSeenOn: row.lastSeenOn,
    year: row.year?.toString() ?? '',
    distance: row.distance?.toString() ?? '',
    distanceUnit: row.distanceUnit,
    condition: row.condition,
    link: row.link,
    note: row.note,
    version: row.version.toString(),
  }
}
