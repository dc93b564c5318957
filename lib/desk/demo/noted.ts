import type { Happening } from './story'

/*
 * Prices of similar bikes as the dealer wrote them down, and what the trade would pay as a bike stands. All of it
 * is invented, for the demo alone.
 */

type Note = Omit<Extract<Happening, { did: 'price' }>, 'did' | 'who' | 'daysAgo'>

const told = (daysAgo: number, notes: readonly Note[]): Happening[] =>
  notes.map((note) => ({ daysAgo, who: 'dealer', did: 'price', ...note }))

/** The trade's price for a bike as it stands. */
export const tradePays = (daysAgo: number, low: string, likely: string, high: string): Happening => ({
  daysAgo,
  who: 'dealer',
  did: 'ways',
  trade: [low, likely, high],
})

export const pricesOf = {
  rustyTank: told(2, [
    {
      market: 'trade',
      asked: 'asked',
      price: '3250',
      year: '1998',
      distance: '27400',
      condition: 'tidy',
      stood: 21,
    },
    {
      market: 'trade',
      asked: 'sold',
      price: '2990',
      year: '1997',
      distance: '33100',
      condition: 'tidy',
      lastSeen: 24,
    },
    {
      market: 'private',
      asked: 'asked',
      price: '2850',
      year: '1996',
      distance: '29800',
      condition: 'tidy',
      lastSeen: 5,
      stood: 40,
    },
    {
      market: 'private',
      asked: 'sold',
      price: '2600',
      year: '1998',
      distance: '38900',
      condition: 'worn',
      lastSeen: 61,
    },
    {
      market: 'auction',
      asked: 'sold',
      price: '2380',
      year: '1999',
      distance: '26050',
      condition: 'tidy',
      lastSeen: 33,
    },
  ]),
  oldTyre: told(1, [
    {
      market: 'trade',
      asked: 'asked',
      price: '3295',
      year: '2003',
      distance: '16200',
      condition: 'tidy',
      stood: 12,
    },
    {
      market: 'trade',
      asked: 'asked',
      price: '3150',
      year: '2001',
      distance: '21900',
      condition: 'tidy',
      stood: 70,
    },
    {
      market: 'private',
      asked: 'sold',
      price: '2850',
      year: '2002',
      distance: '17400',
      condition: 'tidy',
      lastSeen: 19,
    },
    {
      market: 'private',
      asked: 'asked',
      price: '2950',
      year: '2004',
      distance: '14800',
      condition: 'very good',
      stood: 9,
    },
  ]),
  owedOn: told(7, [
    {
      market: 'trade',
      asked: 'asked',
      price: '2890',
      year: '2004',
      distance: '19400',
      condition: 'tidy',
      stood: 15,
    },
    {
      market: 'private',
      asked: 'asked',
      price: '2590',
      year: '2005',
      distance: '16800',
      condition: 'tidy',
      stood: 28,
    },
    {
      market: 'trade',
      asked: 'sold',
      price: '2650',
      year: '2003',
      distance: '21000',
      condition: 'tidy',
      lastSeen: 30,
    },
    {
      market: 'auction',
      asked: 'sold',
      price: '2060',
      year: '2004',
      distance: '18100',
      condition: 'tidy',
      lastSeen: 44,
    },
  ]),
  /** Two alone, so the three prices stay as they were typed. */
  warmOnArrival: told(3, [
    {
      market: 'trade',
      asked: 'asked',
      price: '3190',
      year: '1999',
      distance: '30500',
      condition: 'tidy',
      stood: 33,
    },
    {
      market: 'private',
      asked: 'sold',
      price: '2700',
      year: '1997',
      distance: '36200',
      condition: 'tidy',
      lastSeen: 52,
    },
  ]),
} satisfies Record<string, readonly Happening[]>
