import { hints, refuses } from '../support/refusals'

const {
  misspelt,
  missing,
  aNumber,
  whole,
  from0,
  above0,
  upTo1,
  oneEntry,
  rising,
  toOperations,
  ownKey,
  asShare,
  standard,
} = hints

const rate = { labourRate: 5200 }

const sold = { scheme: 'margin', rate: 0.2, purchase: 150_000, sale: 220_000 }

refuses('tax', [
  ['no scheme', { ...sold, scheme: undefined }, ['scheme'], /^Add it: one of "none", "margin", "standard"/],
  ['an unknown scheme', { ...sold, scheme: 'flat' }, ['scheme'], /^Give one of "none", "margin", "standard"/],
  ['no rate', { ...sold, rate: undefined }, ['rate'], asShare],
  ['a rate in per cent', { ...sold, rate: 20 }, ['rate'], upTo1],
  ['a rate below 0', { ...sold, rate: -0.2 }, ['rate'], from0],
  ['no purchase', { ...sold, purchase: undefined }, ['purchase'], aNumber],
  ['no sale', { ...sold, sale: undefined }, ['sale'], aNumber],
  ['half a penny', { ...sold, purchase: 1.5 }, ['purchase'], whole],
  ['a price in words', { ...sold, purchase: '150' }, ['purchase'], /^Give a number\.$/],
  ['a sale below 0', { ...sold, sale: -2 }, ['sale'], from0],
  ['repairs below 0', { ...sold, repairs: -1 }, ['repairs'], from0],
  ['a trade-in below 0', { ...sold, tradeInCredit: -1 }, ['tradeInCredit'], from0],
  ['tax on the invoice under the margin scheme', { ...sold, purchaseTax: 1 }, ['scheme'], standard],
  ['a taxed price under the margin scheme', { ...sold, purchaseTaxed: true }, ['scheme'], standard],
  ['an unknown key', { ...sold, price: 1 }, ['price'], misspelt],
])

const bike = {
  sale: 100_000,
  estimate: { ...rate, jobs: [] },
  tax: { scheme: 'none' },
  rule: { kind: 'average', targetMargin: 0, maxChanceOfLoss: 0.1 },
}
const average = (over: object) => ({ ...bike, rule: { ...bike.rule, ...over } })
const confidence = (over: object) => ({
  ...bike,
  rule: { kind: 'confidence', targetMargin: 0, confidence: 0.9, ...over },
})
const taxed = (over: object) => ({ ...bike, tax: { scheme: 'margin', rate: 0.2, ...over } })

refuses('deal', [
  ['no sale', { ...bike, sale: undefined }, ['sale'], missing('a number or an object')],
  ['a sale out of order', { ...bike, sale: { low: 3, likely: 2, high: 4 } }, ['sale', 'likely'], rising],
  ['half a penny', { ...bike, sale: 0.5 }, ['sale'], whole],
  ['a sale below 0', { ...bike, sale: -1 }, ['sale'], from0],
  ['faults that add to the sale', { ...bike, saleOff: -1 }, ['saleOff'], from0],
  ['no estimate', { ...bike, estimate: undefined }, ['estimate'], missing('an object')],
  [
    'an estimate that is refused by itself',
    { ...bike, estimate: { ...rate, jobs: [{ key: 'a', operations: ['x'] }] } },
    ['estimate', 'jobs', 0, 'operations', 0],
    toOperations,
  ],
  ['an unknown key', { ...bike, discount: 1 }, ['discount'], misspelt],
  [
    'a key in the wrong place',
    { ...bike, estimate: { ...bike.estimate, asking: 1 } },
    ['estimate', 'asking'],
    misspelt,
  ],
  ['no tax', { ...bike, tax: undefined }, ['tax'], missing('an object')],
  ['a scheme without its rate', taxed({ rate: undefined }), ['tax', 'rate'], asShare],
  ['a taxed price under the margin scheme', taxed({ purchaseTaxed: true }), ['tax', 'scheme'], standard],
  ['tax on the invoice under the margin scheme', taxed({ purchaseTax: 1 }), ['tax', 'scheme'], standard],
  ['a sale within the tax', taxed({ sale: 3 }), ['tax', 'sale'], misspelt],
  ['no rule', { ...bike, rule: undefined }, ['rule'], missing('an object')],
  [
    'an unknown rule',
    average({ kind: 'lucky' }),
    ['rule', 'kind'],
    /^Give one of "average", "confidence"\.$/,
  ],
  [
    'a rule of no kind',
    average({ kind: undefined }),
    ['rule', 'kind'],
    /^Add it: one of "average", "confidence"\.$/,
  ],
  ['no target', average({ targetMargin: undefined }), ['rule', 'targetMargin'], aNumber],
  ['half a penny of target', average({ targetMargin: 0.5 }), ['rule', 'targetMargin'], whole],
  [
    'an average without a bound on the loss',
    average({ maxChanceOfLoss: undefined }),
    ['rule', 'maxChanceOfLoss'],
    aNumber,
  ],
  ['a chance of loss above 1', average({ maxChanceOfLoss: 1.1 }), ['rule', 'maxChanceOfLoss'], upTo1],
  ['a confidence of 0, which any price has', confidence({ confidence: 0 }), ['rule', 'confidence'], above0],
  ['a confidence above 1', confidence({ confidence: 1.01 }), ['rule', 'confidence'], upTo1],
  ['a key of the other rule', confidence({ maxChanceOfLoss: 0.1 }), ['rule', 'maxChanceOfLoss'], misspelt],
  ['an unknown cost of days', { ...bike, holding: { perWeek: 1 } }, ['holding', 'perWeek'], misspelt],
  ['days that earn', { ...bike, holding: { perDay: -1 } }, ['holding', 'perDay'], from0],
  ['money in per cent', { ...bike, holding: { moneyPerYear: 8 } }, ['holding', 'moneyPerYear'], upTo1],
  [
    'days out of order',
    { ...bike, daysToSell: { low: 1, likely: 3, high: 2 } },
    ['daysToSell', 'high'],
    rising,
  ],
  ['fewer than no days', { ...bike, daysToReady: -1 }, ['daysToReady'], from0],
  [
    'more than the price',
    { ...bike, buyingCosts: { shareOfPrice: 2 } },
    ['buyingCosts', 'shareOfPrice'],
    upTo1,
  ],
  ['half a penny of buying', { ...bike, buyingCosts: { fixed: 0.5 } }, ['buyingCosts', 'fixed'], whole],
  ['a reserve above the sale', { ...bike, reserveShareOfSale: 1.5 }, ['reserveShareOfSale'], upTo1],
  ['selling that earns', { ...bike, sellingCosts: -1 }, ['sellingCosts'], from0],
  ['half a penny of standing costs', { ...bike, standingCosts: 0.5 }, ['standingCosts'], whole],
  ['an asking price below 0', { ...bike, asking: -1 }, ['asking'], from0],
  ['half a penny asked', { ...bike, asking: 1.5 }, ['asking'], whole],
])

const asked = {
  ...bike,
  estimate: { ...rate, jobs: [{ key: 'tank', chance: 0.3 }, { key: 'fork' }] },
  asking: 90_000,
}
const look = { key: 'inside', jobs: ['tank'], minutes: 4 }
const withLook = (over: object) => ({ deal: asked, priceShare: 0.5, open: [{ ...look, ...over }] })

refuses('next-check', [
  ['no deal', { priceShare: 0, open: [] }, ['deal'], missing('an object')],
  ['no asking price', { deal: bike, priceShare: 0, open: [] }, ['deal', 'asking'], /^Give what is asked/],
  [
    'a deal that is refused by itself',
    { deal: { ...asked, sale: -1 }, priceShare: 0, open: [] },
    ['deal', 'sale'],
    from0,
  ],
  ['no share of the price', { deal: asked, open: [] }, ['priceShare'], aNumber],
  ['more than all of the price', { deal: asked, priceShare: 1.5, open: [] }, ['priceShare'], upTo1],
  ['no checks', { deal: asked, priceShare: 0 }, ['open'], missing('a list')],
  ['a check without a key', withLook({ key: undefined }), ['open', 0, 'key'], missing('text')],
  ['a check that stands twice', { ...withLook({}), open: [look, look] }, ['open', 1, 'key'], ownKey],
  ['a check of nothing', withLook({ jobs: [] }), ['open', 0, 'jobs'], oneEntry],
  [
    'a job that is not there',
    withLook({ jobs: ['seat'] }),
    ['open', 0, 'jobs', 0],
    /^Name a job of the estimate\.$/,
  ],
  ['a job named twice', withLook({ jobs: ['tank', 'tank'] }), ['open', 0, 'jobs', 1], /^Name each once\.$/],
  [
    'jobs that are no group',
    withLook({ jobs: ['tank', 'fork'] }),
    ['open', 0, 'jobs'],
    /^Name one job, all jobs of one group/,
  ],
  ['no time at all', withLook({ minutes: 0 }), ['open', 0, 'minutes'], above0],
  ['a check that sees more than all', withLook({ detects: 1.1 }), ['open', 0, 'detects'], upTo1],
  ['an unknown key of a check', withLook({ cost: 3 }), ['open', 0, 'cost'], misspelt],
  ['an unknown key', { ...withLook({}), asking: 3 }, ['asking'], misspelt],
])
