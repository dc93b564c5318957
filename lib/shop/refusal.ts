/**
 * A known error, with a sentence for the person and, where it helps, one for the log. Everything else that is
 * thrown is a fault of the program and travels on to the error page.
 */
export const refusalKinds = [
  'not-signed-in',
  'not-allowed',
  'not-found',
  'malformed',
  'stale',
  'rule',
  'too-soon',
] as const
export type RefusalKind = (typeof refusalKinds)[number]

export type FieldMessages = Record<string, string>

export type PlainRefusal = {
  kind: RefusalKind
  message: string
  /** By field name: what to do next. */
  fields: FieldMessages
  /** What is stored now, by field name, where the person saw an older version. */
  theirs?: Record<string, string>
  /** Seconds to wait, where it was too soon. */
  waitSeconds?: number
}

export class Refusal extends Error {
  readonly plain: PlainRefusal
  readonly log: string | undefined

  constructor(
    kind: RefusalKind,
    message: string,
    more: Partial<Omit<PlainRefusal, 'kind' | 'message'>> & {
      log?: string
    } = {},
  ) {
    super(message)
    this.name = 'Refusal'
    const { log, fields = {}, ...rest } = more
    this.plain = { kind, message, fields, ...rest }
    this.log = log
  }
}

export function refuse(...args: ConstructorParameters<typeof Refusal>): never {
  throw new Refusal(...args)
}

/** The refusal of one field, where a rule of the shop and not the shape of the input is broken. */
export function refuseField(field: string, message: string): never {
  throw new Refusal('malformed', 'Look at the marked field.', {
    fields: { [field]: message },
  })
}
