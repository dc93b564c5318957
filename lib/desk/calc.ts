import { z } from 'zod'
import { type Day, dayOf } from '../core/quantity/days'
import { CalcProblem } from '../core/quantity/problem'
import { problemOf } from './input-problem'

interface Calculation {
  /** One line for the list of names. */
  about: string
  /** Brings in the calculation when it is asked for, so that each call loads only its own. */
  load(today: Day): Promise<Loaded>
}

interface Loaded {
  schema: z.ZodType
  answer(document: unknown): unknown
}

const calculations: Record<string, Calculation> = {
  verdict: {
    about: 'readings against a limit: within, outside, too close to call or not judged',
    load: async () => {
      const { verdictInput } = await import('../core/measure/verdict.input')
      const { verdict } = await import('../core/measure/verdict')
      return checked(verdictInput, verdict)
    },
  },
  'tyre-date': {
    about: 'the week a tyre was made in, and its age',
    load: async (today) => {
      const { tyreDateInput } = await import('../core/codes/tyre-date.input')
      const { tyreDate } = await import('../core/codes/tyre-date')
      return checked(tyreDateInput, (input) => tyreDate({ ...input, asOf: input.asOf ?? today }))
    },
  },
  'tyre-size': {
    about: 'the size on a side wall: width, side wall, rim, load and speed',
    load: async () => {
      const { tyreSizeInput } = await import('../core/codes/tyre-size.input')
      const { tyreSize } = await import('../core/codes/tyre-size')
      return checked(tyreSizeInput, tyreSize)
    },
  },
  vin: {
    about: 'a frame number: check digit and model year',
    load: async (today) => {
      const { vinInput } = await import('../core/codes/vin.input')
      const { vin } = await import('../core/codes/vin')
      return checked(vinInput, (input) => vin({ ...input, asOf: input.asOf ?? today }))
    },
  },
  battery: {
    about: 'state of charge of a 12 V battery from its voltage at rest, as a band',
    load: async () => {
      const { batteryInput } = await import('../core/measure/battery.input')
      const { battery } = await import('../core/measure/battery')
      return checked(batteryInput, battery)
    },
  },
  'specific-gravity': {
    about: 'the acid of a lead-acid battery, cell by cell: charge and evenness',
    load: async () => {
      const { specificGravityInput } = await import('../core/measure/specific-gravity.input')
      const { specificGravity } = await import('../core/measure/specific-gravity')
      return checked(specificGravityInput, specificGravity)
    },
  },
  estimate: {
    about: 'hours and cost of jobs that share operations, with their spread',
    load: async () => {
      const { estimateInput } = await import('../core/work/estimate.input')
      const { estimate } = await import('../core/work/estimate')
      return checked(estimateInput, estimate)
    },
  },
  scope: {
    about: 'which optional jobs pay, given what is open anyway',
    load: async () => {
      const { scopeInput } = await import('../core/work/scope.input')
      const { scope } = await import('../core/work/scope')
      return checked(scopeInput, scope)
    },
  },
  tax: {
    about: 'tax and margin of a bike bought and sold',
    load: async () => {
      const { taxInput } = await import('../core/deal/tax.input')
      const { tax } = await import('../core/deal/tax')
      return checked(taxInput, tax)
    },
  },
  deal: {
    about: 'the most a bike may cost, and what to expect at the asking price',
    load: async () => {
      const { dealInput } = await import('../core/deal/deal.input')
      const { deal } = await import('../core/deal/deal')
      return checked(dealInput, deal)
    },
  },
  'next-check': {
    about: 'which open check next: what its answer is worth per minute',
    load: async () => {
      const { nextCheckInput } = await import('../core/deal/next-check.input')
      const { nextCheck } = await import('../core/deal/next-check')
      return checked(nextCheckInput, nextCheck)
    },
  },
  'sale-price': {
    about: 'what a bike would sell at, by prices noted of similar ones',
    load: async (today) => {
      const { salePriceInput } = await import('../core/deal/comparables.input')
      const { salePriceFrom } = await import('../core/deal/comparables')
      return checked(salePriceInput, (input) => salePriceFrom({ ...input, asOf: input.asOf ?? today }))
    },
  },
  plan: {
    about: 'the order of work: which task when and by whom, and when each bike is ready',
    load: async () => {
      const { planInput } = await import('../core/plan/plan.input')
      const { plan } = await import('../core/plan/plan')
      return checked(planInput, plan)
    },
  },
}

interface Terminal {
  stdin: AsyncIterable<Uint8Array>
  stdout: NodeJS.WritableStream
  stderr: NodeJS.WritableStream
  today: Day
}

/** Exit status: 0 answered, 2 the input is at fault, 1 the program is. */
type Status = 0 | 1 | 2

/** Runs one calculation from the terminal: documents in on standard input, answers out on standard output. */
export async function calc(args: readonly string[], terminal: Terminal): Promise<Status> {
  if (args.includes('--help')) {
    await say(terminal.stdout, help())
    return 0
  }
  const outcome = await attempt(async () => {
    const { name, flag } = asked(args)
    const loaded = await calculations[name]!.load(terminal.today)
    if (flag === '--lines') return { kind: 'lines', loaded } as const
    const text = flag === '--schema' ? schemaOf(loaded) : answerTo(await allOf(terminal.stdin), loaded)
    return { kind: 'text', text } as const
  })
  if (outcome.status !== 0) {
    await say(terminal.stderr, `${JSON.stringify(outcome.error)}\n`)
    return outcome.status
  }
  if (outcome.value.kind === 'lines') return answerLines(outcome.value.loaded, terminal)
  await say(terminal.stdout, `${outcome.value.text}\n`)
  return 0
}

/** The day on the clock of this machine. */
export function todayHere(now: Date): Day {
  return dayOf(now.getFullYear(), now.getMonth() + 1, now.getDate())
}

function help(): string {
  const width = Math.max(...Object.keys(calculations).map((name) => name.length))
  const names = Object.entries(calculations).map(([name, { about }]) => `  ${name.padEnd(width)}  ${about}`)
  return [
    'npm run -s calc -- NAME            one JSON document in on standard input, one out on standard output',
    'npm run -s calc -- NAME --lines    one document a line, one answer a line',
    'npm run -s calc -- NAME --schema   the JSON Schema of its input',
    '',
    'NAME is one of',
    ...names,
    '',
    'What each reads and answers, and by which formulas: lib/core/README.md',
    '',
  ].join('\n')
}

/** A calculation behind its schema: what does not pass the schema does not reach it. */
function checked<S extends z.ZodType>(schema: S, run: (input: z.output<S>) => unknown): Loaded {
  return {
    schema,
    answer(document) {
      const parsed = schema.safeParse(document)
      if (!parsed.success) throw problemOf(parsed.error, document)
      return run(parsed.data)
    },
  }
}

function asked(args: readonly string[]): { name: string; flag: string | undefined } {
  const names = Object.keys(calculations)
  const known = `Names: ${names.join(', ')}.`
  const flags = args.filter((arg) => arg.startsWith('-'))
  const [name, ...more] = args.filter((arg) => !arg.startsWith('-'))
  const strange = flags.find((flag) => flag !== '--schema' && flag !== '--lines')
  if (strange) throw refusal(`${strange} is not known here.`, 'There are --lines, --schema and --help.')
  if (name === undefined) throw refusal('No calculation is named.', known)
  if (!Object.hasOwn(calculations, name))
    throw refusal(`There is no calculation ${JSON.stringify(name)}.`, known)
  if (more.length > 0) throw refusal(`${more.join(' ')} is too much: one calculation at a time.`, known)
  if (new Set(flags).size > 1)
    throw refusal('--lines and --schema do not go together.', 'Leave one of them out.')
  return { name, flag: flags[0] }
}

function schemaOf({ schema }: Loaded): string {
  return JSON.stringify(z.toJSONSchema(schema, { io: 'input' }), null, 2)
}

function answerTo(document: Uint8Array, { answer }: Loaded): string {
  // A number without end would silently become null: better a fault that is seen.
  return JSON.stringify(answer(parse(document)), (key, value) => {
    if (typeof value === 'number' && !Number.isFinite(value)) throw new Error(`"${key}" came out as ${value}`)
    return value
  })
}

function parse(document: Uint8Array): unknown {
  let parsed: unknown
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(document)
    if (text.trim() === '') {
      throw refusal(
        'There is nothing on standard input.',
        'Send one JSON document; --schema tells what it holds.',
      )
    }
    parsed = JSON.parse(text)
  } catch (error) {
    if (error instanceof CalcProblem) throw error
    const why = error instanceof Error ? error.message : String(error)
    throw refusal(`This is no JSON: ${why}`, 'Send one JSON document in UTF-8; --schema tells what it holds.')
  }
  refuseHiddenKey(parsed)
  return parsed
}

/** A key of this name would be lost without a word where keys are free, since objects use it for themselves. */
function refuseHiddenKey(document: unknown): void {
  const open: { value: unknown; path: (string | number)[] }[] = [{ value: document, path: [] }]
  for (let next = open.pop(); next; next = open.pop()) {
    const { value, path } = next
    if (typeof value !== 'object' || value === null) continue
    if (Object.hasOwn(value, '__proto__')) {
      throw new CalcProblem('__proto__ cannot be a key.', {
        path: [...path, '__proto__'],
        hint: 'Name it otherwise.',
      })
    }
    for (const [key, inner] of Object.entries(value)) {
      if (typeof inner === 'object')
        open.push({ value: inner, path: [...path, Array.isArray(value) ? Number(key) : key] })
    }
  }
}

async function answerLines(loaded: Loaded, { stdin, stdout }: Terminal): Promise<Status> {
  let worst: Status = 0
  for await (const line of linesOf(stdin)) {
    if (isBlank(line)) continue
    const outcome = await attempt(() => answerTo(line, loaded))
    await say(stdout, `${outcome.status === 0 ? outcome.value : JSON.stringify(outcome.error)}\n`)
    // A fault of the program outweighs any number of bad lines.
    if (outcome.status === 1 || worst === 0) worst = outcome.status
  }
  return worst
}

type Outcome<T> =
  | { status: 0; value: T }
  | { status: 1 | 2; error: { error: string; path: readonly (string | number)[]; hint: string } }

/** The one place where errors become exit status and error object. */
async function attempt<T>(work: () => T | Promise<T>): Promise<Outcome<T>> {
  try {
    return { status: 0, value: await work() }
  } catch (problem) {
    if (problem instanceof CalcProblem) {
      return { status: 2, error: { error: problem.message, path: problem.path, hint: problem.hint } }
    }
    const trace = problem instanceof Error ? (problem.stack ?? problem.message) : String(problem)
    const error = 'This is a fault of the program, not of the input.'
    return {
      status: 1,
      error: { error, path: [], hint: `Please report it with the input and this: ${trace}` },
    }
  }
}

async function allOf(stdin: AsyncIterable<Uint8Array>): Promise<Uint8Array> {
  const chunks: Uint8Array[] = []
  for await (const chunk of stdin) chunks.push(chunk)
  return Buffer.concat(chunks)
}

/** Split at line feeds only: JSON may hold the other characters that some take for the end of a line. */
async function* linesOf(stdin: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
  const lineFeed = 10
  let begun: Uint8Array[] = []
  for await (const chunk of stdin) {
    let from = 0
    for (let at = chunk.indexOf(lineFeed); at >= 0; at = chunk.indexOf(lineFeed, from)) {
      yield Buffer.concat([...begun, chunk.subarray(from, at)])
      begun = []
      from = at + 1
    }
    if (from < chunk.length) begun.push(chunk.subarray(from))
  }
  if (begun.length > 0) yield Buffer.concat(begun)
}

function isBlank(line: Uint8Array): boolean {
  // Space, tab and carriage return, the white space of JSON that can stand in a line.
  return line.every((byte) => byte === 32 || byte === 9 || byte === 13)
}

/** Ends when the reader has room for more, so that a long run does not pile up in memory. */
function say(stream: NodeJS.WritableStream, text: string): Promise<void> {
  return new Promise((done) => {
    if (stream.write(text)) done()
    else stream.once('drain', done)
  })
}

function refusal(message: string, hint: string): CalcProblem {
  return new CalcProblem(message, { path: [], hint })
}
