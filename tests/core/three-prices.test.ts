import { expect, test } from 'vitest'
import { threePrices } from '../../lib/core/deal/three-prices'

const shares = { openShare: 0.8, aimShare: 0.9 }

test.each([
  ['whole tens below the shares', 143_000, null, { open: 114_000, aim: 128_000, walkAway: 143_000 }],
  ['never above what is asked', 143_000, 120_000, { open: 114_000, aim: 120_000, walkAway: 143_000 }],
  [
    'a cheap bike is not opened above its price',
    143_000,
    90_000,
    { open: 90_000, aim: 90_000, walkAway: 143_000 },
  ],
  ['nothing is nothing', 0, 5000, { open: 0, aim: 0, walkAway: 0 }],
  ['no price, no talk', null, 90_000, null],
])('%s', (_, walkAway, asking, expected) => {
  expect(threePrices({ walkAway, asking }, shares)).toEqual(expected)
})
