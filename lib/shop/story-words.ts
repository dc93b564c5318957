import type { Catalogue, Check } from '../core/checks/catalogue'
import { identityAnswers, registerNames } from '../core/checks/money-gate'
import { type OpenStateKind, openStateKinds } from '../core/checks/open-states'
import type { Unit } from '../core/quantity/units'
import type { Prisma } from '../data/generated/client'
import { figuresWords } from './limit-words'
import type { Verb } from './who-may'

/*
 * What happened to a bike, one sentence an event. What is said to somebody who may see no money has no amount in
 * it, and no words that a person typed where amounts are spoken of.
 */

export const storyKinds = ['readings', 'work', 'decisions', 'money', 'papers', 'photos'] as const
export type StoryKind = (typeof storyKinds)[number]

/** What the sentences are made with, beside the event itself. */
export type Told = {
  catalogue: Catalogue
  readings: ReadonlyMap<string, Prisma.ReadingGetPayload<object>>
  /** Captions of photos by their ids. */
  captions: ReadonlyMap<string, string>
  /** What a decision that was taken back was about, by its id. */
  decisions: ReadonlyMap<string, { kind: string; key: string }>
  /** False for who may see no money. */
  money: boolean
}

/** What an event wrote down, as it was stored; fields that an older version did not write are missing. */
export type Body = Readonly<Record<string, unknown>>

export type Amount = { label: string; minor: number }

type Words = {
  kind: StoryKind
  says: (body: Body, told: Told) => string
  /** Figures of money, for who may see them. */
  amounts?: (body: Body) => readonly Amount[]
  /** It is about money throughout: not told at all to who may see none. */
  moneyOnly?: true
}

/** Null for what is never done to a bike. A verb that is not here does not compile. */
export const storyWords = {
  'viewing:take-in': {
    kind: 'papers',
    says: (body) => `Taken in as viewing ${text(body, 'viewingNo')}: ${bikeWords(body)}.`,
    amounts: (body) => amountsOf(body, factAmounts),
  },
  'bike:change': {
    kind: 'papers',
    says: changedWords,
    amounts: (body) => {
      const to = Object.entries(record(body, 'changed')).map(([key, change]) => [key, asBody(change).to])
      return amountsOf(Object.fromEntries(to), columnAmounts)
    },
  },
  'identity:note': { kind: 'papers', says: identityWords, amounts: owedOf, moneyOnly: true },
  'distance:note': { kind: 'papers', says: distanceWords },
  'reading:add': { kind: 'readings', says: readingWords },
  'limit:set-for-bike': { kind: 'readings', says: limitWords },
  'photo:add': {
    kind: 'photos',
    says: (body, told) => `Photo${ofPhoto(body, told)}.`,
  },
  'photo:mark': {
    kind: 'photos',
    says: (body, told) => {
      const count = Number(body.marks ?? 0)
      return `Photo${ofPhoto(body, told)}: ${count === 0 ? 'marks taken away' : `marked, ${count} in all`}.`
    },
  },
  'photo:take-back': {
    kind: 'photos',
    says: (body, told) => `Photo${ofPhoto(body, told)} taken back: ${sentence(text(body, 'because'))}`,
  },
  'photo:choose': {
    kind: 'photos',
    says: (body, told) =>
      `Photo${ofPhoto(body, told)} ${body.forBuyer === true ? 'chosen for' : 'taken off'} the buyer\u2019s sheet.`,
  },
  'work:do': { kind: 'work', says: workWords },
  'question:ask': {
    kind: 'work',
    says: (body) =>
      `Asked the manager: ${sentence(text(body, 'asks'))}${after(' More hours: ', text(body, 'moreHours'), '.')}` +
      after(' Undone: ', typed(body, 'undone')) +
      after(' Kept: ', typed(body, 'keptWhere')),
  },
  'question:answer': {
    kind: 'work',
    says: (body) =>
      `Answered: ${text(body, 'answer')}${after(', up to ', text(body, 'budgetHours'), ' h')}${noted(body)}.` +
      endedWords(body),
  },
  'ride:note': { kind: 'work', says: rideWords },
  'ready:say': {
    kind: 'work',
    says: (body) =>
      `${text(body, 'point') === 'certificate' ? 'Certificate' : 'Looked over by a second person'}${noted(body)}.`,
  },
  'bike:put-on-bench': {
    kind: 'work',
    says: (body) => after('Back from ready to the bench: ', typed(body, 'reason')) || 'Put on the bench.',
  },
  'bike:make-ready': { kind: 'work', says: () => 'Ready.' },
  'plan:set': { kind: 'work', says: planWords },
  'decision:make': { kind: 'decisions', says: decisionWords, amounts: ownAmounts },
  'lock:clear': {
    kind: 'decisions',
    says: (body, { catalogue }) => {
      const [check, fault] = [text(body, 'fault').replace(/^check:/, ''), text(body, 'fault')]
      const about = fault.startsWith('check:') ? checkTitle(catalogue, check) : faultTitle(catalogue, fault)
      const ride = text(body, 'for') === 'ride' ? ' for one ride' : ''
      return `Opened what ${quoted(about)} kept shut${ride}: ${typed(body, 'reason')}`
    },
  },
  'bike:pass-up': {
    kind: 'decisions',
    says: (body, { money }) => (money ? `Passed up: ${typed(body, 'reason')}` : 'Passed up.'),
  },
  'offer:make': {
    kind: 'money',
    says: (body) => `Offered, valid until ${text(body, 'validUntil')}.${awayWords(record(body, 'away'))}`,
    amounts: (body) => [
      ...amountsOf(body, { priceMinor: 'Offered' }),
      ...amountsOf(record(body, 'away'), {
        walkAwayThen: 'Walk-away price on the phone',
        walkAwayHere: 'Walk-away price worked out here',
      }),
    ],
    moneyOnly: true,
  },
  'price:note': {
    kind: 'money',
    says: notedPriceWords,
    amounts: (body) => amountsOf(body, { was: 'Before', priceMinor: 'Noted' }),
    moneyOnly: true,
  },
  'offer:counter': {
    kind: 'money',
    says: (body) => {
      const whose = text(body, 'said') === 'shop' ? 'The shop answered' : 'The seller answered'
      const made = text(body, 'offer') ? ', which is an offer of its own' : ''
      return `${whose} an offer with a figure${made}.${after(' ', typed(body, 'note'))}`
    },
    amounts: (body) => amountsOf(body, { amountMinor: 'Named' }),
    moneyOnly: true,
  },
  'ways:note': {
    kind: 'money',
    says: () => 'Noted what it would bring without being put right.',
    amounts: (body) => amountsOf(body, wayAmounts),
    moneyOnly: true,
  },
  'what-if:keep': {
    kind: 'money',
    says: (body) =>
      text(body, 'dropped')
        ? `Took a what-if away: ${typed(body, 'dropped')}.`
        : `Kept a what-if: ${typed(body, 'name')}.`,
    amounts: (body) =>
      amountsOf(body, { asking: 'Price', labourCost: 'Labour cost', benchHourPrice: 'Bench hour' }),
    moneyOnly: true,
  },
  'bike:buy': {
    kind: 'money',
    says: (body) => `Bought on ${text(body, 'day')}, stock number ${text(body, 'stockNo')}.`,
    amounts: (body) => amountsOf(body, { priceMinor: 'Paid' }),
  },
  'spend:note': { kind: 'money', says: spendWords, amounts: spentAmounts, moneyOnly: true },
  'part:note': { kind: 'work', says: partWords },
  'part:order': {
    kind: 'work',
    says: orderWords,
    amounts: (body) =>
      amountsOf(body, { unitMinor: 'Each', carriageMinor: 'Carriage', amountMinor: 'Asked for it' }),
  },
  'bike:see': null,
  'money:see': null,
  'shop:open': null,
  'device:enrol': null,
  'manager:come-back': null,
  'session:start': null,
  'session:end': null,
  'offer:show': null,
  'seller-side:start': null,
  'seller-side:end': null,
  'limit:set': null,
  'instrument:change': null,
  'people:change': null,
  'device:change': null,
  'shop:change': null,
  'figures:change': null,
  'catalogue:change': null,
} as const satisfies Record<Verb, Words | null>

/** The words for a verb as it is stored; null for one that is done to no bike, or that nobody knows any more. */
export function wordsOf(verb: string): Words | null {
  return verb in storyWords ? storyWords[verb as Verb] : null
}

/** The verbs of one kind, or of all, that may be told. */
export function verbsTold({ kind, money }: { kind: StoryKind | null; money: boolean }): string[] {
  return Object.entries<Words | null>(storyWords).flatMap(([verb, words]) =>
    words && (money || !words.moneyOnly) && (kind === null || words.kind === kind) ? [verb] : [],
  )
}

/** What a photo is of, and its caption. */
function ofPhoto(body: Body, { catalogue, captions }: Told): string {
  const [check, fault] = [text(body, 'check'), text(body, 'fault')]
  const title = fault
    ? (catalogue.faults.find(({ key }) => key === fault)?.title ?? fault)
    : check && checkTitle(catalogue, check)
  return `${title ? ` of ${quoted(title)}` : ''}${after(': ', captions.get(text(body, 'photo')))}`
}

function readingWords(body: Body, { catalogue, readings }: Told): string {
  const row = readings.get(text(body, 'reading'))
  const title = checkTitle(catalogue, text(body, 'check'))
  if (!row) return `${title}: ${text(body, 'value')}.`
  const said = sentence(row.value)
  if (row.kind === 'skipped') return `${title}: left out. ${said}`
  if (row.kind === 'withdrawn') return `${title}: an earlier reading taken back. ${said}`
  const check = catalogue.checks.find(({ key }) => key === row.check)
  const tool = row.instrument ? (JSON.parse(row.instrument) as { name?: string }).name : null
  const instead = row.supersedes === null ? '' : ', in place of an earlier reading'
  const where = placeOf(check, row.position)
  return (
    `${title}${after(', ', where)}: ${valueWords(check, row)}${after(' by ', tool?.toLowerCase())}` +
    `${after(' at ', row.engineSpeed?.toString(), ' rpm')}${instead}.${after(' ', row.note && sentence(row.note))}`
  )
}

function placeOf(check: Check | undefined, position: string | null): string | null {
  if (position === null) return null
  const places = check?.sort === 'measured' ? check.positions : []
  if (places.length === 1) return null
  return (places.find(({ key }) => key === position)?.label ?? position).toLowerCase()
}

type ReadingRow = Prisma.ReadingGetPayload<object>

function valueWords(check: Check | undefined, { value, unit }: ReadingRow): string {
  switch (check?.sort) {
    case 'look':
      return check.answers.find(({ key }) => key === value)?.label ?? value
    case 'measured':
      return `${value} ${unitWord(unit ?? check.unit)}`
    case 'number':
      return `${value} ${check.unitWord}`
    default:
      return unit ? `${value} ${unitWord(unit)}` : value
  }
}

const writtenUnits: Readonly<Record<string, string>> = { in32: '1/32 in', degC: '°C', degF: '°F' }

function unitWord(unit: string): string {
  return writtenUnits[unit] ?? unit
}

function limitWords(body: Body, { catalogue }: Told): string {
  const back = text(body, 'withdrew')
  if (back) return `Limit of ${quoted(checkTitle(catalogue, back))} for this bike taken back.`
  const figures = figuresWords({
    min: number(body, 'min'),
    max: number(body, 'max'),
    asNew: number(body, 'asNew'),
    saleMin: number(body, 'saleMin'),
    saleMax: number(body, 'saleMax'),
    unit: text(body, 'unit') as Unit,
  })
  const title = checkTitle(catalogue, text(body, 'check'))
  const stamped = text(body, 'source') === 'stamped' ? ', stamped on the part' : ''
  return `Limit of ${quoted(title)} for this bike: ${figures}${stamped}.`
}

/** Of an answer that ended the work which led to the question. */
function endedWords(body: Body): string {
  const title = text(body, 'title')
  return (
    title &&
    ` ${quoted(title)} ends here${after(' after ', text(body, 'minutes'), ' minutes')}.${leftOpenWords(body)}`
  )
}

function leftOpenWords(body: Body): string {
  const left = list(body, 'leftOpen')
  return left.length > 0 ? ` Still open: ${openWords(left)}.` : ''
}

function workWords(body: Body): string {
  const title = quoted(text(body, 'title'))
  const took = after(', ', text(body, 'minutes'), ' minutes')
  const stillOpen = leftOpenWords(body)
  const opens = list(body, 'opens')
  switch (text(body, 'did')) {
    case 'started':
      return `Began ${title}.${opens.length > 0 ? ` Open from now on: ${openWords(opens)}.` : ''}`
    case 'left':
      return `Stopped work on ${title}; others go on${took}.`
    case 'paused':
      return `Paused ${title}${took} so far.`
    case 'went on':
      return `Went on with ${title}.`
    case 'finished':
      return `Finished ${title}${took}.${after(' ', typed(body, 'note'))}${stillOpen}`
    case 'gave up':
      return `Gave up ${title}${took}.${after(' ', typed(body, 'note'))}${stillOpen}`
    case 'minutes corrected':
      return `Minutes of ${title} corrected from ${text(body, 'from')} to ${text(body, 'minutes')}.${after(' ', typed(body, 'note'))}`
    case 'part':
      return `Part used${text(body, 'title') && ` for ${title}`}: ${pieceWords(body)}.`
    case 'part back':
      return `A part noted is taken back: ${pieceWords(body)}.`
    case 'opened':
      return `Open from now on: ${openWords([text(body, 'kind')])}${noted(body)}.`
    case 'put back':
      return `Put back and in order: ${openWords([text(body, 'kind')])}${noted(body)}.`
    default:
      return `Work on ${title}.`
  }
}

function openWords(kinds: readonly string[]): string {
  return kinds
    .map((kind) =>
      (kind in openStateKinds ? openStateKinds[kind as OpenStateKind].title : kind).toLowerCase(),
    )
    .join(', ')
}

/** What it was, how many where more than one, and its number. */
function pieceWords(body: Body): string {
  const qty = text(body, 'qty')
  return `${text(body, 'what')}${qty === '1' ? '' : after(' × ', qty)}${after(', number ', text(body, 'number'))}`
}

function spendWords(body: Body): string {
  switch (text(body, 'did')) {
    case 'priced':
      return `Priced: ${text(body, 'what')}.`
    case 'taken back':
      return `What was spent is taken back: ${text(body, 'what')}. ${typed(body, 'reason')}`
    default: {
      const on = text(body, 'kind') === 'outside' ? 'on outside work' : 'on a part'
      return `Spent ${on}${after(' for "', text(body, 'title'), '"')}: ${pieceWords(body)}.`
    }
  }
}

function spentAmounts(body: Body): Amount[] {
  if (text(body, 'did') === 'priced') return amountsOf(body, { before: 'Before', amountMinor: 'Now' })
  return amountsOf(body, { amountMinor: 'Spent' })
}

/** What comes, is wrong, lies on the shelf or is with somebody outside: told to everybody. */
function partWords(body: Body): string {
  const [piece, title] = [pieceWords(body), text(body, 'title')]
  const whoHas = text(body, 'whoHas')
  switch (text(body, 'did')) {
    case 'arrived':
      return `In the box for ${quoted(title)}: ${piece}.`
    case 'wrong':
      return `Came wrong for ${quoted(title)}: ${piece}. ${typed(body, 'note')}`
    case 'at hand':
      return `Out of what the shop has, for ${quoted(title)}: ${piece}.`
    case 'not at hand':
      return `Not there after all, for ${quoted(title)}: ${piece}.`
    case 'on the shelf':
      return `Put on the shelf: ${piece}${after(', fits ', text(body, 'fits'))}${after(', ', text(body, 'place'))}.`
    case 'off the shelf':
      return `Gone from the shelf: ${piece}. ${typed(body, 'note')}`
    case 'from the shelf':
      return `Off the shelf for ${quoted(title)}: ${piece}. ${typed(body, 'story')}`
    case 'back on the shelf':
      return `Back on the shelf: ${piece}.`
    case 'sent out':
      return (
        `With ${whoHas} since ${text(body, 'sentOn')}: ${text(body, 'what')}` +
        `${after(', due back ', text(body, 'dueOn'))}${noted(body)}.`
      )
    case 'due back':
      return `${whoHas} has ${text(body, 'what')} until ${text(body, 'dueOn')}${noted(body)}.`
    default:
      return `Back from ${whoHas}: ${text(body, 'what')}${noted(body)}.`
  }
}

/** What is asked and ordered; words that were typed may speak of amounts. */
function orderWords(body: Body, { money }: Told): string {
  const [piece, title, supplier] = [pieceWords(body), text(body, 'title'), text(body, 'supplier')]
  const why = money ? after(' ', typed(body, 'reason') || typed(body, 'note')) : ''
  switch (text(body, 'did')) {
    case 'asked':
      return `To order of ${supplier} for ${quoted(title)}: ${piece}${after(', ', text(body, 'leadDays'), ' days')}.`
    case 'changed':
      return `To order of ${supplier}, set right: ${piece}.`
    case 'off the list':
      return `Not to be ordered any more: ${piece}.${why}`
    case 'called off':
      return `Order called off: ${piece}.${why}`
    case 'ordered': {
      const parts = (body.parts as readonly Body[] | undefined) ?? []
      const each = parts.map((part) => `${pieceWords(part)}${after(', due ', text(part, 'dueOn'))}`)
      return `Ordered of ${supplier}: ${each.join('; ')}.`
    }
    case 'never':
      return `Will not come: ${piece}.${why}`
    case 'outside asked':
      return `${supplier} said what it comes to: ${text(body, 'what')}.`
    case 'sent back':
      return `Sent back: ${piece}.${why}`
    default:
      return `Came wrong and kept: ${piece}.${why}`
  }
}

function rideWords(body: Body): string {
  const clock = after(' at ', text(body, 'distance'), ` ${text(body, 'unit')} on the clock`)
  const less = body.showsLess === true ? ', which is less than before' : ''
  if (text(body, 'did') === 'in')
    return `Back from a ride by ${text(body, 'rider')}${clock}${less}${noted(body)}.`
  const papers = (['licence', 'cover', 'plates', 'held'] as const)
    .map((one) => after(`; ${one}: `, text(body, one)))
    .join('')
  return `Out for a ride (${text(body, 'purpose')}) by ${text(body, 'rider')}${clock}${less}${papers}.`
}

function distanceWords(body: Body): string {
  if (text(body, 'withdrew')) return `A noted distance taken back: ${typed(body, 'reason')}`
  const noticed = `${text(body, 'distance')} ${text(body, 'unit')} on ${text(body, 'day')}`
  return `Distance noted: ${noticed}, from ${text(body, 'source')}${noted(body)}.`
}

const registerSaid: Readonly<Record<string, string>> = {
  clear: 'nothing on record',
  recorded: 'on record',
  'no-answer': 'no answer',
}

function identityWords(body: Body): string {
  const register = text(body, 'register')
  if (register) {
    const name = register in registerNames ? registerNames[register as keyof typeof registerNames] : register
    const said = registerSaid[text(body, 'answer')] ?? text(body, 'answer')
    return `Register of ${name}, asked on ${text(body, 'day')} of ${text(body, 'askedOf')}: ${said}${noted(body)}.`
  }
  const [point, answer] = [text(body, 'point'), text(body, 'answer')]
  const answers = point in identityAnswers ? identityAnswers[point as keyof typeof identityAnswers] : {}
  return `${capital(point.replace('-', ' '))}: ${answers[answer]?.label ?? answer}${noted(body)}.`
}

function notedPriceWords(body: Body): string {
  const for_ = body.alone === true ? ', for this bike alone' : ''
  const where = after(', ', text(body, 'market'))
  switch (text(body, 'did')) {
    case 'corrected':
      return `A noted price corrected${where}${for_}${noted(body)}.`
    case 'seen again':
      return `A noted price seen again on ${text(body, 'lastSeenOn')}.`
    case 'taken back':
      return `A noted price taken back: ${typed(body, 'reason')}`
    case 'table taken in':
      return `Noted prices taken out of a table: ${text(body, 'added')} new, ${text(body, 'changed')} changed.`
    default:
      return `Noted ${body.asked === true ? 'an asking price' : 'a price paid'} of a similar bike${where}${for_}${noted(body)}.`
  }
}

function owedOf(body: Body): Amount[] {
  return amountsOf(body, { amountMinor: 'Outstanding' })
}

const decided: Readonly<Record<string, (about: string) => string>> = {
  'add-fault': (about) => `Fault added: ${about}`,
  'drop-fault': (about) => `Fault left out: ${about}`,
  'change-call': (about) => `Call changed of ${about}`,
  'choose-job': (about) => `Job chosen for ${about}`,
  'add-job': (about) => `Job taken in: ${about}`,
  'drop-job': (about) => `Job left out: ${about}`,
  'change-job': (about) => `Job changed: ${about}`,
}

function decisionWords(body: Body, { catalogue, decisions, money }: Told): string {
  if (text(body, 'kind') === 'follow-scope') {
    const jobs = Array.isArray(body.jobs) ? body.jobs.map((job) => jobTitle(catalogue, String(job))) : []
    return `Taken in because they pay: ${jobs.map(quoted).join(', ')}.`
  }
  const back = text(body, 'withdrew')
  const of = back ? decisions.get(back) : { kind: text(body, 'kind'), key: text(body, 'key') }
  if (!of) return 'A decision taken back.'
  const own = text(record(body, 'own'), 'title')
  const about = quoted(own || titleOf(catalogue, of.key))
  const said = decided[of.kind]?.(about) ?? `Decided on ${about}`
  if (back) return `Taken back: ${said.charAt(0).toLowerCase()}${said.slice(1)}.`
  const to = after(' to ', text(body, 'call')) + after(': ', jobTitle(catalogue, text(body, 'job')))
  return `${said}${to}.${money ? after(' ', typed(body, 'reason')) : ''}`
}

function ownAmounts(body: Body): Amount[] {
  return amountsOf(record(body, 'own'), { saleOffMinor: 'Off the sale price' })
}

const wayAmounts = {
  tradeLikelyMinor: 'On to the trade, likely',
  partsLikelyMinor: 'Its parts, likely',
  breakCostMinor: 'Costs of breaking it',
} as const

const factAmounts = {
  asking: 'Asked',
  saleLow: 'Sale, low',
  saleLikely: 'Sale, likely',
  saleHigh: 'Sale, high',
} as const
const columnAmounts = {
  askingMinor: 'Asked',
  saleLowMinor: 'Sale, low',
  saleLikelyMinor: 'Sale, likely',
  saleHighMinor: 'Sale, high',
} as const

const columnWords: Readonly<Record<string, string>> = {
  kind: 'what kind of bike it is',
  frameNumber: 'frame number',
  registration: 'registration',
  make: 'make',
  model: 'model',
  year: 'year',
  distance: 'distance',
  distanceUnit: 'unit of the distance',
  clockChanged: 'whether its clock was changed',
  nonRunner: 'whether it can be started',
  notes: 'notes',
}
const sellersWords: Readonly<Record<string, string>> = {
  sellerName: 'seller',
  sellerContact: "seller's address",
}

/** Which facts were changed; a short value is told with what it was before. */
function changedWords(body: Body, { money }: Told): string {
  const words = { ...columnWords, ...(money && sellersWords) }
  const parts = Object.entries(record(body, 'changed')).flatMap(([column, change]) => {
    const word = words[column]
    if (!word) return []
    const { from, to } = asBody(change)
    const isPlain = column !== 'kind' && column !== 'notes'
    return [isPlain ? `${word} from ${plain(from)} to ${plain(to)}` : word]
  })
  return parts.length > 0 ? `Corrected: ${parts.join(', ')}.` : 'Other facts about it were corrected.'
}

function plain(value: unknown): string {
  if (value === null || value === undefined || value === '') return 'nothing'
  return typeof value === 'boolean' ? (value ? 'yes' : 'no') : String(value)
}

function bikeWords(body: Body): string {
  const name = `${text(body, 'make')} ${text(body, 'model')}${after(', ', text(body, 'year'))}`
  const clock = after(', ', text(body, 'distance'), ` ${text(body, 'distanceUnit')} on the clock`)
  return `${name}${clock}${body.nonRunner === true ? ', cannot be started' : ''}`
}

/** Of an offer made where no network was: by which figures, and what came out otherwise once it was in. */
function awayWords(away: Body): string {
  const by = text(away, 'figuresNo')
  if (by === '') return ''
  const now = text(away, 'figuresNow')
  const figures = now === '' ? `by figures ${by}` : `by figures ${by}, while figures ${now} are in force`
  const sheet =
    away.sheetDiffers === true ? ' The sheet the seller was shown says other than what is known here.' : ''
  return ` Made away from the shop, ${figures}.${sheet}`
}

function amountsOf(body: Body, labels: Readonly<Record<string, string>>): Amount[] {
  return Object.entries(labels).flatMap(([key, label]) => {
    const minor = number(body, key)
    return minor === null ? [] : [{ label, minor }]
  })
}

function checkTitle({ checks }: Catalogue, key: string): string {
  return checks.find((one) => one.key === key)?.title ?? key
}

function faultTitle({ faults }: Catalogue, key: string): string {
  return faults.find((one) => one.key === key)?.title ?? key
}

function jobTitle({ jobs }: Catalogue, key: string): string {
  return jobs.find((one) => one.key === key)?.title ?? key
}

function titleOf(catalogue: Catalogue, key: string): string {
  const fault = faultTitle(catalogue, key)
  return fault === key ? jobTitle(catalogue, key) : fault
}

function text(body: Body, key: string): string {
  const value = body[key]
  return typeof value === 'string' || typeof value === 'number' ? String(value) : ''
}

function number(body: Body, key: string): number | null {
  const value = body[key]
  return typeof value === 'number' ? value : null
}

function list(body: Body, key: string): string[] {
  const value = body[key]
  return Array.isArray(value) ? value.map(String) : []
}

function record(body: Body, key: string): Body {
  return asBody(body[key])
}

function asBody(value: unknown): Body {
  return typeof value === 'object' && value !== null ? (value as Body) : {}
}

/** The text with what stands before and behind it; nothing where there is none. */
function after(before: string, said: string | null | undefined, behind = ''): string {
  return said ? `${before}${said}${behind}` : ''
}

function noted(body: Body): string {
  return after(' (', text(body, 'note'), ')')
}

/** What a person typed, as a sentence of its own. */
function typed(body: Body, key: string): string {
  const said = text(body, key)
  return said && sentence(said)
}

function quoted(title: string): string {
  return `"${title}"`
}

function sentence(said: string): string {
  return /[.!?]$/.test(said) ? said : `${said}.`
}

function capital(said: string): string {
  return said.charAt(0).toUpperCase() + said.slice(1)
}

function planWords(body: Body): string {
  const did = text(body, 'did')
  if (did === 'promised') {
    const day = text(body, 'day')
    return (day ? `Promised for ${day}.` : 'The promise was taken back.') + noted(body)
  }
  if (did === 'unpinned') return `The plan may move ${quoted(text(body, 'title'))} again.`
  return `Settled for ${text(body, 'day')}: ${quoted(text(body, 'title'))}${after(', done by ', text(body, 'doer'))}.`
}
