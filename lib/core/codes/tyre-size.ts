import { CalcProblem } from '../quantity/problem'
import { convert } from '../quantity/units'
import type { TyreSizeInput } from './tyre-size.input'
import { loadKg, speedKmh, widthOfLetterMm } from './tyre-symbols'

export type TyreConstruction = 'diagonal' | 'bias-belted' | 'radial'

/** What a tyre's side wall says of its size, its load and its speed. */
export type TyreSize = {
  /** The same marking in one form, however it was typed. */
  marking: string
  /** By what the width is told: millimetres, inches, or a letter of the older alphanumeric sizes. */
  system: 'metric' | 'inch' | 'alphanumeric'
  /** Nominal, as marked: the tyre itself may be some millimetres wider or narrower. */
  widthMm: number
  widthIn: number
  /** Height of the side wall in per cent of the width. */
  aspectPercent: number
  /** `assumed` where the marking tells no ratio: older inch sizes are about as high as they are wide. */
  aspectFrom: 'marking' | 'assumed'
  sideWallMm: number
  construction: TyreConstruction
  rimIn: number
  /** Rim and twice the side wall, computed from the nominal sizes. */
  overallMm: number
  /** Null where no load index is marked. */
  load: { index: number; kg: number } | null
  /** Null where no speed symbol is marked; `over` where the tyre is made for more than `kmh`. */
  speed: { symbol: string; kmh: number; mph: number; bound: 'up-to' | 'over' } | null
  /** What else was read, such as M/C and TL, in the order it stands. */
  alsoMarked: string[]
  /** All of it as one phrase, without a full stop. */
  words: string
  /** Plain sentences on what the marking leaves open. */
  notes: string[]
}

/**
 * Decodes the size on a motorcycle tyre's side wall: width, ratio, construction, rim, load index and speed symbol.
 * Upper or lower case and spaces do not matter. Overall diameter = rim × 25.4 mm + 2 × width × ratio.
 * @throws CalcProblem for what is no such marking, with the part that could not be read.
 */
export function tyreSize({ marking }: TyreSizeInput): TyreSize {
  const text = tidied(marking)
  const size = sizeIn(text)
  const middle = middleIn(size.middle)
  const rest = restIn(size.rest)
  const sideWallMm = (size.widthMm * size.aspectPercent) / 100
  const speed = speedOf(middle.speedSymbol, rest.service)
  const read = { ...size, ...middle, ...rest, speed }
  return {
    marking: written(read),
    system: size.system,
    widthMm: size.widthMm,
    widthIn: convert(size.widthMm, 'mm', 'in'),
    aspectPercent: size.aspectPercent,
    aspectFrom: size.aspectFrom,
    sideWallMm,
    construction: middle.construction,
    rimIn: size.rimIn,
    overallMm: convert(size.rimIn, 'in', 'mm') + 2 * sideWallMm,
    load: rest.service && { index: rest.service.index, kg: rest.service.kg },
    speed,
    alsoMarked: rest.alsoMarked,
    words: phrase({ ...read, sideWallMm }),
    notes: notesOn(read),
  }
}

type Size = {
  system: TyreSize['system']
  /** Width and ratio as they stand, without spaces. */
  head: string
  widthMm: number
  aspectPercent: number
  aspectFrom: TyreSize['aspectFrom']
  middle: string
  rimIn: number
  rest: string
}
type Middle = { construction: TyreConstruction; speedSymbol: string | null }
type Service = { index: number; kg: number; symbol: string; bracketed: boolean }
type Rest = { service: Service | null; alsoMarked: string[] }
type Read = Size & Middle & Rest & { speed: TyreSize['speed'] }

const example = 'Type it as it stands, such as 190/50 ZR17 M/C (73W), 3.50-18 56P or MT90B16.'

/** Capitals, single spaces, and one sign for the dashes and commas that people type. */
function tidied(marking: string): string {
  const text = marking
    .trim()
    .toUpperCase()
    .replace(/[\u2010-\u2015\u2212]/g, '-')
    .replace(/(\d),(?=\d)/g, '$1.')
    .replace(/\s+/g, ' ')
  if (text === '') throw refusal('The size is empty.', example)
  return text
}

const headForms = {
  metric: /^(\d{2,3}) ?\/ ?(\d{2,3}) ?(?=[A-Z-])/,
  inch: /^(\d{1,2}\.\d{1,2})(?: ?\/ ?(\d{2,3}))? ?(?=[A-Z-])/,
  alphanumeric: /^M ?([A-Z]) ?(\d{2,3}) ?(?=[A-Z-])/,
} as const

/** A hyphen, one or two letters, or a letter or two with a hyphen on either side; then the rim. */
const middleAndRim = /^(-|-? ?[A-Z]{1,2} ?-?) ?(\d{1,2}(?:\.5)?)(?![\d.])(?: |(?=[(A-Z])|$)(.*)$/

function sizeIn(text: string): Size {
  for (const system of ['metric', 'inch', 'alphanumeric'] as const) {
    const head = headForms[system].exec(text)
    if (!head) continue
    const [whole, width = '', ratio] = head
    const tail = middleAndRim.exec(text.slice(whole.length))
    if (!tail) break
    const [, middle = '', rim = '', rest = ''] = tail
    const size: Size = {
      system,
      head: headWritten(system, width, ratio),
      widthMm: widthIn(system, width),
      aspectPercent: ratio === undefined ? 100 : Number(ratio),
      aspectFrom: ratio === undefined ? 'assumed' : 'marking',
      middle: middle.replace(/[ -]/g, ''),
      rimIn: Number(rim),
      rest: rest.trim(),
    }
    refuseUnlikely(size)
    return size
  }
  throw refusal(
    `${JSON.stringify(text)} is no size of a motorcycle tyre that can be read here.`,
    hintOn(text),
  )
}

function widthIn(system: TyreSize['system'], width: string): number {
  if (system === 'metric') return Number(width)
  if (system === 'inch') return convert(Number(width), 'in', 'mm')
  const letter = widthOfLetterMm[width]
  if (letter !== undefined) return letter
  throw refusal(
    `The width letter ${width} of M${width} is not in the table.`,
    `Known are M with ${Object.keys(widthOfLetterMm).join(', ')}. Look again, or ask the tyre's maker for its metric size.`,
  )
}

/** Inches in two decimals, as tyres bear them: 3.5 is 3.50. */
function headWritten(system: TyreSize['system'], width: string, ratio: string | undefined): string {
  if (system === 'alphanumeric') return `M${width}${ratio}`
  const told = system === 'inch' ? Number(width).toFixed(2) : width
  return ratio === undefined ? told : `${told}/${ratio}`
}

/** Wider than the sizes that are made, so that only slips are caught: a 19 for 190, a rim in millimetres. */
const likely = {
  widthMm: { from: 40, to: 400, what: 'width', unit: 'mm' },
  aspectPercent: { from: 25, to: 110, what: 'ratio', unit: '%' },
  rimIn: { from: 4, to: 30, what: 'rim', unit: 'in' },
} as const

function refuseUnlikely(size: Size): void {
  for (const [key, { from, to, what, unit }] of Object.entries(likely)) {
    const value = size[key as keyof typeof likely]
    if (value >= from && value <= to) continue
    throw refusal(
      `A ${what} of ${Number(value.toFixed(1))} ${unit} is no tyre's of a motorcycle: ${from} to ${to} ${unit} is.`,
      'Read the size again: width, ratio, then the rim.',
    )
  }
}

/** What most likely went wrong, for a text that has not the form of a size. */
function hintOn(text: string): string {
  if (/^\d{2,3} ?[\s/-] ?\d{2,3} ?[\s/]? ?\d{2}\b/.test(text))
    return `What stands between ratio and rim is missing: R, ZR, B or a hyphen. ${example}`
  if (/^\d{2,3} ?-/.test(text)) return `Between width and ratio there is a stroke: 110/80-18. ${example}`
  if (/^\d+ \d\/\d/.test(text)) return `Give a fraction of an inch in decimals: 2.25 for 2 1/4. ${example}`
  if (/^\d{3,4}$/.test(text)) return 'This looks like the date code, which is read by itself.'
  return example
}

/** The letters before the rim: an R or a B at the end is how it is built, a letter before that its speed. */
function middleIn(letters: string): Middle {
  const last = letters.slice(-1)
  const construction = { R: 'radial', B: 'bias-belted' }[last] as TyreConstruction | undefined
  // D is for diagonal, which a hyphen says too; no tyre of this age is for the 65 km/h that D means as a speed.
  const speedSymbol = construction ? letters.slice(0, -1) : letters === 'D' ? '' : letters
  if (speedSymbol === 'Z' && construction !== 'radial')
    throw refusal('Z stands before an R only.', 'Look again: it may be ZR, or the digit 2.')
  if (speedSymbol !== '' && speedSymbol !== 'Z' && !(speedSymbol in speedKmh))
    throw refusal(
      `${letters} between ratio and rim is neither a build nor a speed.`,
      'There stands R, ZR, B or a hyphen, on older tyres after a speed letter such as H or V.',
    )
  return { construction: construction ?? 'diagonal', speedSymbol: speedSymbol || null }
}

/** Words that may follow the size, with how they are written. */
const words: readonly { form: RegExp; word: string }[] = [
  { form: /^M\/?C(?![A-Z])/, word: 'M/C' },
  { form: /^(TUBELESS|TL)(?![A-Z])/, word: 'TL' },
  { form: /^(TUBE ?TYPE|TT)(?![A-Z])/, word: 'TT' },
  { form: /^(REINFORCED|REINF|RF)(?![A-Z])\.?/, word: 'REINF' },
  { form: /^FRONT(?![A-Z])/, word: 'FRONT' },
  { form: /^REAR(?![A-Z])/, word: 'REAR' },
  { form: /^M ?[+&] ?S(?![A-Z])/, word: 'M+S' },
  { form: /^NHS(?![A-Z])/, word: 'NHS' },
]
const plyRating = /^(\d{1,2}) ?PR(?![A-Z])/
const serviceForms = [
  { form: /^\( ?(\d{2,3}) ?([A-Z]) ?\)/, bracketed: true },
  { form: /^(\d{2,3}) ?([A-Z])(?![A-Z])/, bracketed: false },
] as const

/** Load and speed, and known words, in any order; nothing is passed over. */
function restIn(text: string): Rest {
  const read: Rest = { service: null, alsoMarked: [] }
  let left = text
  const take = (length: number) => {
    left = left.slice(length).trimStart()
  }
  while (left !== '') {
    const ply = plyRating.exec(left)
    const known = words.find(({ form }) => form.test(left))
    const service = serviceForms.find(({ form }) => form.test(left))
    if (ply) {
      read.alsoMarked.push(`${Number(ply[1])}PR`)
      take(ply[0].length)
    } else if (known) {
      read.alsoMarked.push(known.word)
      take(known.form.exec(left)![0].length)
    } else if (service && read.service === null) {
      const [whole, index, symbol] = service.form.exec(left)!
      read.service = serviceOf(Number(index), symbol!, service.bracketed)
      take(whole.length)
    } else throw strange(left, read.service !== null)
  }
  return read
}

function serviceOf(index: number, symbol: string, bracketed: boolean): Service {
  const kg = loadKg[index]
  const known = Object.keys(loadKg)
  if (kg === undefined)
    throw refusal(
      `${index} is not in the table of load indexes, which goes from ${known[0]} to ${known.at(-1)}.`,
      'Read the two figures before the speed letter again.',
    )
  if (!(symbol in speedKmh))
    throw refusal(
      `${symbol} is no speed symbol.`,
      `After the load index stands one of ${Object.keys(speedKmh).join(', ')}.`,
    )
  return { index, kg, symbol, bracketed }
}

function strange(left: string, hasService: boolean): CalcProblem {
  const [first = left] = left.split(' ')
  if (/^\(?\d{2,3}\)?$/.test(first) && !hasService)
    return refusal(`${first} has no speed letter behind it.`, 'A load index comes with one: 58H, (73W).')
  return refusal(
    `${JSON.stringify(first)} is not read.`,
    "Leave out the maker's name and all else but size, load and speed.",
  )
}

/** The speed that counts: behind the load index, or, on older tyres, inside the size. */
function speedOf(inside: string | null, service: Service | null): TyreSize['speed'] {
  if (service) return speed(service.symbol, speedKmh[service.symbol]!, service.bracketed ? 'over' : 'up-to')
  if (inside === null) return null
  // Inside a size and alone, Z is for more than 240 and V, which is older, for more than 210 (from memory).
  if (inside === 'Z') return speed('Z', 240, 'over')
  if (inside === 'V') return speed('V', 210, 'over')
  return speed(inside, speedKmh[inside]!, 'up-to')
}

function speed(symbol: string, kmh: number, bound: 'up-to' | 'over') {
  return { symbol, kmh, mph: convert(kmh, 'km', 'mi'), bound }
}

/** One form for every way of typing, which reads as the same again: size, M/C, load and speed, other words. */
function written({ system, head, construction, speedSymbol, rimIn, service, alsoMarked }: Read): string {
  const build = { radial: 'R', 'bias-belted': 'B', diagonal: speedSymbol ? '' : '-' }[construction]
  const middle = `${speedSymbol ?? ''}${build}`
  const gap = middle === '-' || system === 'alphanumeric' ? '' : ' '
  const load = service && `${service.index}${service.symbol}`
  return [
    `${head}${gap}${middle}${rimIn}`,
    ...alsoMarked.filter((word) => word === 'M/C'),
    service?.bracketed ? `(${load})` : load,
    ...alsoMarked.filter((word) => word !== 'M/C'),
  ]
    .filter(Boolean)
    .join(' ')
}

const builds: Record<TyreConstruction, string> = {
  diagonal: 'diagonal plies',
  'bias-belted': 'diagonal plies under a belt',
  radial: 'radial plies',
}

function phrase(told: Read & { sideWallMm: number }): string {
  const { widthMm, aspectPercent, aspectFrom, sideWallMm, construction, rimIn, service, speed } = told
  const parts = [
    `${tenth(widthMm)} mm wide`,
    `side wall ${aspectFrom === 'assumed' ? 'about ' : ''}${tenth(sideWallMm)} mm (${aspectPercent} %)`,
    builds[construction],
    `for a rim of ${rimIn} in`,
  ]
  if (service) parts.push(`carries ${service.kg} kg`)
  if (speed) parts.push(`made for ${speedWords(speed)}`)
  return parts.join(', ')
}

function speedWords({ kmh, mph, bound }: NonNullable<TyreSize['speed']>): string {
  return `${bound === 'over' ? 'more than' : 'up to'} ${kmh} km/h (${Math.round(mph)} mph)`
}

function tenth(millimetres: number): number {
  return Math.round(millimetres * 10) / 10
}

function notesOn(read: Read): string[] {
  return [...notesOnSize(read), ...notesOnSpeed(read), ...notesOnRest(read)]
}

function notesOnSize({ system, aspectFrom }: Read): string[] {
  const notes = []
  if (aspectFrom === 'assumed')
    notes.push(
      'No ratio is marked: older inch sizes are about as high as they are wide, so side wall and diameter are rough.',
    )
  if (system === 'alphanumeric')
    notes.push(
      'The width letter stands for a class of widths: the millimetres are those of the metric size beside it in a chart.',
    )
  return notes
}

function notesOnSpeed({ service, speedSymbol, speed }: Read): string[] {
  const notes = []
  if (service === null && speed === null)
    notes.push('No load index and no speed symbol: ask its maker for them.')
  if (service === null && speed !== null)
    notes.push('The speed stands inside the size and no load index is marked: ask its maker for the load.')
  if (service === null && speed?.bound === 'over')
    notes.push(`${speed.symbol} alone means more than ${speed.kmh} km/h; how much more its maker tells.`)
  if (service?.bracketed)
    notes.push(
      `Brackets mean a tyre for more than ${speedKmh[service.symbol]} km/h; how much more, and at what load, its maker tells.`,
    )
  if (service && speedSymbol !== null && !agree(speedSymbol, service.symbol))
    notes.push(
      `Inside the size stands ${speedSymbol}, behind the load index ${service.symbol}: the two do not agree. Look again.`,
    )
  return notes
}

/** A Z inside the size goes with any symbol from 240 km/h on; another letter with itself. */
function agree(inside: string, behind: string): boolean {
  return inside === 'Z' ? speedKmh[behind]! >= 240 : inside === behind
}

function notesOnRest({ alsoMarked }: Read): string[] {
  const notes = []
  if (alsoMarked.includes('NHS')) notes.push('NHS: not made for use on the road.')
  if (alsoMarked.some((word) => /PR$/.test(word)))
    notes.push('PR counts plies by an old rating and is no load index.')
  return notes
}

function refusal(message: string, hint: string): CalcProblem {
  return new CalcProblem(message, { path: ['marking'], hint })
}
