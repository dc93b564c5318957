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
  toJobs,
  ring,
  sumTo1,
  ownKey,
  ownName,
  eachState,
  takeBack,
} = hints

const rate = { labourRate: 5200 }
const job = { key: 'a', hours: 1 }
const care = [
  { name: 'kept', chance: 0.5 },
  { name: 'neglected', chance: 0.5 },
]
const withJob = (over: object) => ({ ...rate, jobs: [{ ...job, ...over }] })
const withPart = (over: object) => withJob({ parts: [{ name: 'p', unitCost: 1, ...over }] })
const withGroup = (over: object) => ({
  ...rate,
  jobs: [job],
  oneOf: [{ name: 'g', jobs: { a: 1 }, ...over }],
})
const withFasteners = (...fasteners: object[]) => ({ ...rate, jobs: [], fasteners })
const free = { name: 'free', chance: 1, factor: 1 }

refuses('estimate', [
  ['no rate', { jobs: [] }, ['labourRate'], aNumber],
  ['half a penny an hour', { labourRate: 0.5, jobs: [] }, ['labourRate'], whole],
  ['a rate below 0', { labourRate: -1, jobs: [] }, ['labourRate'], from0],
  ['no jobs', rate, ['jobs'], missing('a list')],
  ['an unknown key', { ...rate, jobs: [], colour: 1 }, ['colour'], misspelt],
  ['an unknown key of a job', withJob({ price: 1 }), ['jobs', 0, 'price'], misspelt],
  ['an unknown key of a part', withPart({ maker: 'x' }), ['jobs', 0, 'parts', 0, 'maker'], misspelt],
  [
    'an unknown key of an operation',
    { ...rate, operations: { o: { time: 1 } }, jobs: [] },
    ['operations', 'o', 'time'],
    misspelt,
  ],
  [
    'an unknown key of the fasteners',
    withFasteners({ ...free, bolt: 1 }),
    ['fasteners', 0, 'bolt'],
    misspelt,
  ],
  [
    'an unknown key of the care',
    { ...rate, jobs: [], care: [{ name: 'kept', chance: 1, factor: 1 }] },
    ['care', 0, 'factor'],
    misspelt,
  ],
  ['an unknown key of a group', withGroup({ share: 1 }), ['oneOf', 0, 'share'], misspelt],
  [
    'a fourth point',
    withJob({ hours: { low: 1, likely: 1, high: 1, mode: 1 } }),
    ['jobs', 0, 'hours', 'mode'],
    misspelt,
  ],
  ['a job without a key', { ...rate, jobs: [{ hours: 1 }] }, ['jobs', 0, 'key'], missing('text')],
  ['an empty key', withJob({ key: '' }), ['jobs', 0, 'key'], /^Give at least 1 character\.$/],
  ['two jobs of one key', { ...rate, jobs: [job, job] }, ['jobs', 1, 'key'], ownKey],
  ['an unknown operation', withJob({ operations: ['x'] }), ['jobs', 0, 'operations', 0], toOperations],
  [
    'an operation of a name that objects bring along',
    withJob({ operations: ['toString'] }),
    ['jobs', 0, 'operations', 0],
    toOperations,
  ],
  [
    'an unknown need',
    { ...rate, operations: { o: { needs: ['x'] } }, jobs: [] },
    ['operations', 'o', 'needs', 0],
    toOperations,
  ],
  [
    'needs in a ring',
    { ...rate, operations: { a: { needs: ['b'] }, b: { needs: ['c'] }, c: { needs: ['a'] } }, jobs: [] },
    ['operations', 'c', 'needs', 0],
    ring,
  ],
  [
    'an operation that needs itself',
    { ...rate, operations: { a: { needs: ['a'] } }, jobs: [] },
    ['operations', 'a', 'needs', 0],
    ring,
  ],
  ['a chance above 1', withJob({ chance: 1.1 }), ['jobs', 0, 'chance'], upTo1],
  ['a chance below 0', withJob({ chance: -0.1 }), ['jobs', 0, 'chance'], from0],
  [
    'a chance by state that leaves one out',
    { ...withJob({ chance: { kept: 0.1 } }), care },
    ['jobs', 0, 'chance'],
    eachState,
  ],
  [
    'a chance for a state that is not there',
    { ...withJob({ chance: { kept: 0.1, neglected: 0.2, lost: 0.3 } }), care },
    ['jobs', 0, 'chance', 'lost'],
    eachState,
  ],
  [
    'a chance by state without states',
    withJob({ chance: { kept: 0.1 } }),
    ['jobs', 0, 'chance', 'kept'],
    eachState,
  ],
  [
    'a chance by state above 1',
    { ...withJob({ chance: { kept: 1.1, neglected: 1 } }), care },
    ['jobs', 0, 'chance', 'kept'],
    upTo1,
  ],
  ['a group more than certain', withGroup({ chance: 2 }), ['oneOf', 0, 'chance'], upTo1],
  [
    'a group whose chance leaves a state out',
    { ...withGroup({ chance: { kept: 0.1 } }), care },
    ['oneOf', 0, 'chance'],
    eachState,
  ],
  ['fasteners that do not sum to 1', withFasteners({ ...free, chance: 0.9 }), ['fasteners'], sumTo1],
  ['no state of the fasteners', withFasteners(), ['fasteners'], oneEntry],
  ['a factor of 0', withFasteners({ ...free, factor: 0 }), ['fasteners', 0, 'factor'], above0],
  [
    'two states of the fasteners of one name',
    withFasteners({ ...free, chance: 0.5 }, { ...free, chance: 0.5 }),
    ['fasteners', 1, 'name'],
    ownName,
  ],
  [
    'care that does not sum to 1',
    { ...rate, jobs: [], care: [{ name: 'kept', chance: 0.999 }] },
    ['care'],
    sumTo1,
  ],
  ['no state of care', { ...rate, jobs: [], care: [] }, ['care'], oneEntry],
  [
    'two states of care of one name',
    { ...rate, jobs: [], care: [care[0], care[0]] },
    ['care', 1, 'name'],
    ownName,
  ],
  ['shares that do not sum to 1', withGroup({ jobs: { a: 0.9 } }), ['oneOf', 0, 'jobs'], sumTo1],
  ['a group of no jobs', withGroup({ jobs: {} }), ['oneOf', 0, 'jobs'], sumTo1],
  ['a group with an unknown job', withGroup({ jobs: { a: 0.5, b: 0.5 } }), ['oneOf', 0, 'jobs', 'b'], toJobs],
  [
    'a job of a group with a chance of its own',
    { ...withGroup({}), jobs: [{ ...job, chance: 1 }] },
    ['jobs', 0, 'chance'],
    /^Leave its chance out/,
  ],
  [
    'a job in two groups',
    {
      ...withGroup({}),
      oneOf: [
        { name: 'g', jobs: { a: 1 } },
        { name: 'h', jobs: { a: 1 } },
      ],
    },
    ['oneOf', 1, 'jobs', 'a'],
    /^Leave it in one of them\.$/,
  ],
  [
    'likely below low',
    withJob({ hours: { low: 3, likely: 2, high: 4 } }),
    ['jobs', 0, 'hours', 'likely'],
    rising,
  ],
  [
    'high below likely',
    withJob({ outsideWork: { low: 1, likely: 2, high: 1 } }),
    ['jobs', 0, 'outsideWork', 'high'],
    rising,
  ],
  ['two points of three', withJob({ hours: { low: 3, likely: 4 } }), ['jobs', 0, 'hours', 'high'], aNumber],
  ['hours in words', withJob({ hours: 'two' }), ['jobs', 0, 'hours'], /^Give a number or an object\.$/],
  ['hours below 0', withJob({ hours: -1 }), ['jobs', 0, 'hours'], from0],
  ['fewer than no parts', withPart({ qty: -1 }), ['jobs', 0, 'parts', 0, 'qty'], from0],
  [
    'a part without a price',
    withPart({ unitCost: undefined }),
    ['jobs', 0, 'parts', 0, 'unitCost'],
    missing('a number or an object'),
  ],
  [
    'half a penny in a price',
    withPart({ unitCost: { low: 1, likely: 1.5, high: 2 } }),
    ['jobs', 0, 'parts', 0, 'unitCost', 'likely'],
    whole,
  ],
  ['outside work below 0', withJob({ outsideWork: -5 }), ['jobs', 0, 'outsideWork'], from0],
  ['the level 0', { ...rate, jobs: [], quantiles: [0.5, 0] }, ['quantiles', 1], above0],
  ['a level above 1', { ...rate, jobs: [], quantiles: [1.5] }, ['quantiles', 0], upTo1],
  ['a number without end', '{"labourRate":1e999,"jobs":[]}', ['labourRate'], /^Give a number\.$/],
])

const must = { must: true }
const pair = { alternatives: [['a', 'b']] }

refuses('scope', [
  ['no jobs', {}, ['jobs'], missing('a list')],
  ['an unknown key', { jobs: [], groups: [] }, ['groups'], misspelt],
  ['an unknown key of a job', { jobs: [{ key: 'a', price: 1 }] }, ['jobs', 0, 'price'], misspelt],
  [
    'an unknown key of an operation',
    { operations: { o: { cost: 1, hours: 1 } }, jobs: [] },
    ['operations', 'o', 'hours'],
    misspelt,
  ],
  [
    'an operation without its cost',
    { operations: { o: {} }, jobs: [] },
    ['operations', 'o', 'cost'],
    aNumber,
  ],
  ['an operation below 0', { operations: { o: { cost: -1 } }, jobs: [] }, ['operations', 'o', 'cost'], from0],
  ['a cost below 0', { jobs: [{ key: 'a', cost: -1 }] }, ['jobs', 0, 'cost'], from0],
  ['half a penny', { jobs: [{ key: 'a', uplift: 0.5 }] }, ['jobs', 0, 'uplift'], whole],
  ['must in words', { jobs: [{ key: 'a', must: 'yes' }] }, ['jobs', 0, 'must'], /^Give true or false\.$/],
  ['two jobs of one key', { jobs: [{ key: 'a' }, { key: 'a' }] }, ['jobs', 1, 'key'], ownKey],
  [
    'an unknown operation',
    { jobs: [{ key: 'a', operations: ['x'] }] },
    ['jobs', 0, 'operations', 0],
    toOperations,
  ],
  [
    'an unknown need',
    { operations: { o: { cost: 1, needs: ['x'] } }, jobs: [] },
    ['operations', 'o', 'needs', 0],
    toOperations,
  ],
  [
    'needs in a ring',
    { operations: { a: { cost: 1, needs: ['b'] }, b: { cost: 1, needs: ['a'] } }, jobs: [] },
    ['operations', 'b', 'needs', 0],
    ring,
  ],
  ['an unknown job required', { jobs: [{ key: 'a', requires: ['x'] }] }, ['jobs', 0, 'requires', 0], toJobs],
  [
    'an unknown job among alternatives',
    { jobs: [{ key: 'a' }], alternatives: [['a', 'x']] },
    ['alternatives', 0, 1],
    toJobs,
  ],
  ['an unknown job among one of', { jobs: [], mustOneOf: [['x']] }, ['mustOneOf', 0, 0], toJobs],
  ['alternatives of nothing', { jobs: [], alternatives: [[]] }, ['alternatives', 0], oneEntry],
  ['exactly one of nothing', { jobs: [], mustOneOf: [[]] }, ['mustOneOf', 0], oneEntry],
  [
    'a job twice in a group',
    { jobs: [{ key: 'a' }], mustOneOf: [['a', 'a']] },
    ['mustOneOf', 0, 1],
    /^Name each job once\.$/,
  ],
  [
    'two musts of which one may be done',
    {
      jobs: [
        { key: 'a', ...must },
        { key: 'b', ...must },
      ],
      ...pair,
    },
    ['jobs', 0, 'must'],
    takeBack,
  ],
  [
    'a must that requires its alternative',
    { jobs: [{ key: 'a', ...must, requires: ['b'] }, { key: 'b' }], ...pair },
    ['jobs', 0, 'must'],
    takeBack,
  ],
  [
    'exactly one of two that require each other',
    {
      jobs: [
        { key: 'a', requires: ['b'] },
        { key: 'b', requires: ['a'] },
      ],
      mustOneOf: [['a', 'b']],
    },
    ['jobs', 0, 'requires'],
    takeBack,
  ],
  [
    'groups that clash',
    { jobs: [{ key: 'a' }, { key: 'b' }], mustOneOf: [['a'], ['b']], ...pair },
    ['alternatives', 0],
    takeBack,
  ],
])
