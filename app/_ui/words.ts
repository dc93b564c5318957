/** The words of the tool, each in a sentence or two. The same text stands behind a tap and on /words. */
export const words = {
  bike: { word: 'bike', says: 'One motorcycle, from the first look at it until it is sold or passed up.' },
  'viewing number': {
    word: 'viewing number',
    says: 'The number a bike gets when it is first looked at. It keeps it for good, bought or not.',
  },
  'stock number': {
    word: 'stock number',
    says: 'The number a bike gets when the shop buys it. Stock numbers run on one by one, with no gaps.',
  },
  stage: {
    word: 'stage',
    says: 'How far a bike has come: viewing, offered, bought, on the bench, waiting for a decision, ready, reserved, sold, or passed up.',
  },
  viewing: { word: 'viewing', says: 'The first visit to a bike, and everything written down at it.' },
  round: {
    word: 'round',
    says: 'A group of checks done in one go. There are four, in the order that is safest: cold, stand, running, road.',
  },
  'short round': {
    word: 'short round',
    says: 'The quick checks at a viewing: a torch, a tread gauge and a meter are enough, and the bike needs no stand.',
  },
  check: { word: 'check', says: 'One thing to measure, look at, decode or note down.' },
  look: {
    word: 'look',
    says: 'A check answered with eye, ear, nose or hand, by choosing one of its answers.',
  },
  reading: {
    word: 'reading',
    says: 'One value exactly as it was taken, with who took it, when and with what. It is never changed: a correction is a new reading beside the old one.',
  },
  limit: {
    word: 'limit',
    says: 'The least or the most a value may be, and where that figure comes from.',
  },
  verdict: {
    word: 'verdict',
    says: 'What a check comes to: within, outside, too close to call, not judged, not checked, or does not apply.',
  },
  within: {
    word: 'within',
    says: 'The value keeps its limit, even allowing for what the instrument may be off by.',
  },
  outside: { word: 'outside', says: 'The value breaks its limit.' },
  'too close to call': {
    word: 'too close to call',
    says: 'The value keeps its limit, but by less than the instrument may be off. A finer instrument could settle it.',
  },
  'not judged': {
    word: 'not judged',
    says: 'There is a reading but no verdict: nobody has entered a limit, the reading was taken in the wrong condition, or places are still missing.',
  },
  'not checked': {
    word: 'not checked',
    says: 'Nobody has looked yet, or somebody could not. It is no sign that all is well.',
  },
  'does not apply': {
    word: 'does not apply',
    says: 'This kind of bike has no such part, so there is nothing to check.',
  },
  'sale line': {
    word: 'sale line',
    says: 'The shop’s own bound, stricter than the limit. A part past it is still legal, but this shop does not sell it that way.',
  },
  gate: { word: 'gate', says: 'What has to be known and good before the next round may begin.' },
  lock: {
    word: 'lock',
    says: 'What keeps a round shut while the bike is unsafe. You can always write down what you saw; only the instruction to go on is held back.',
  },
  recheck: { word: 'recheck', says: 'The check done after a job to prove that it cured the fault.' },
  fault: { word: 'fault', says: 'Something wrong with a bike, found by a check or added by hand.' },
  call: {
    word: 'call',
    says: 'What a fault asks for: stop, must, pays or leave.',
  },
  stop: { word: 'stop', says: 'Unsafe. It keeps a round shut until it is dealt with.' },
  must: { word: 'must', says: 'Has to be put right before the bike may be sold.' },
  pays: { word: 'pays', says: 'May be put right; done only where it earns more than it costs.' },
  leave: { word: 'leave', says: 'Stays as it is, and the buyer is told.' },
  decision: {
    word: 'decision',
    says: 'What a person set against what the tool worked out, with the name and the reason.',
  },
  job: { word: 'job', says: 'A piece of work that cures one fault or several.' },
  operation: {
    word: 'operation',
    says: 'A step of labour that several jobs may need, like taking the tank off. It is done and paid for once.',
  },
  estimate: {
    word: 'estimate',
    says: 'What the work may take in hours and money: not one figure but how far it may fall either side.',
  },
  'labour cost': {
    word: 'labour cost',
    says: 'What an hour of a technician costs the shop, not what it would charge a customer.',
  },
  'bench hour': { word: 'bench hour', says: 'An hour of one technician at a bench.' },
  'bench hour’s price': {
    word: 'bench hour’s price',
    says: 'What a bench hour could earn on other work: nothing while the bench is idle. Where it is used it stands in for the labour cost.',
  },
  'day’s price': {
    word: 'day’s price',
    says: 'What every day of a bike standing costs: its room, what it loses in price, and the money tied up in it.',
  },
  'open price': { word: 'open price', says: 'The first figure named to the seller.' },
  'aim price': { word: 'aim price', says: 'The figure the dealer hopes to agree on.' },
  'walk-away price': {
    word: 'walk-away price',
    says: 'The most that may be paid. Above it the bike earns too little on average or loses money too often.',
  },
  margin: {
    word: 'margin',
    says: 'The sale price less everything: what was paid, the work, the days it stands, what selling costs, and the tax.',
  },
  'chance of loss': {
    word: 'chance of loss',
    says: 'How likely it is that a bike costs more in all than it brings in.',
  },
  'gain from going on': {
    word: 'gain from going on',
    says: 'What the best way out brings once the work is finished, less what it brings today, less what is still to be spent.',
  },
  'left after its keep': {
    word: 'left after its keep',
    says: 'The margin with its bench hours reckoned at what they could earn elsewhere.',
  },
  spread: {
    word: 'spread',
    says: 'How far a figure may fall either side of its middle. Eight times in ten it ends between the low and the high.',
  },
  'starting value': {
    word: 'starting value',
    says: 'A figure the tool began with, made up to be of a sensible size. It stands until the shop sets its own.',
  },
  comparable: { word: 'comparable', says: 'A price noted of a similar bike, asked or paid.' },
} as const satisfies Record<string, { word: string; says: string }>

export type WordName = keyof typeof words
