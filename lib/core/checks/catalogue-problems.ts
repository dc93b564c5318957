import type { Catalogue, Check, Fault, Raise, When } from './catalogue'

/** The four kinds of entry that name one another; cautions are only ever named. */
export const entryKinds = ['check', 'fault', 'job', 'operation'] as const
export type EntryKind = (typeof entryKinds)[number]

/** Something that is wrong in a catalogue: with which entry, at which of its fields, in words. */
export type CatalogueProblem = { kind: EntryKind; key: string; field: string; says: string }

type Named = EntryKind | 'caution'
/** One entry naming another, and where. */
export type Naming = { kind: EntryKind; key: string; title: string; field: string; names: Named; to: string }

/** Every place where an entry names another, in the order of the catalogue. */
export function namings({ checks, faults, jobs, operations }: Catalogue): Naming[] {
  const from =
    (kind: EntryKind, { key, title }: { key: string; title: string }) =>
    (field: string, names: Named, to: readonly string[]) =>
      to.map((one): Naming => ({ kind, key, title, field, names, to: one }))
  return [
    ...checks.flatMap((check) => {
      const of = from('check', check)
      return [
        ...check.raises.flatMap((raise, index) => of(`raises.${index}`, 'fault', [faultNamed(raise)])),
        ...of('cautions', 'caution', check.cautions ?? []),
      ]
    }),
    ...faults.flatMap((fault) => {
      const of = from('fault', fault)
      return [
        ...of('jobs', 'job', fault.jobs),
        ...of(
          'causes',
          'job',
          (fault.causes ?? []).map(({ job }) => job),
        ),
        ...of('diagnosis', 'job', fault.diagnosis === undefined ? [] : [fault.diagnosis]),
        ...of('rechecks', 'check', fault.rechecks),
      ]
    }),
    ...jobs.flatMap((job) => {
      const of = from('job', job)
      return [
        ...of('operations', 'operation', job.operations),
        ...of('cautions', 'caution', job.cautions ?? []),
      ]
    }),
    ...operations.flatMap((operation) => {
      const of = from('operation', operation)
      return [
        ...of('needs', 'operation', operation.needs ?? []),
        ...of('disturbs', 'check', operation.disturbs ?? []),
      ]
    }),
  ]
}

/** Who names an entry: what would lose something if it were no longer there. */
export function namedBy(catalogue: Catalogue, { kind, key }: { kind: EntryKind; key: string }): Naming[] {
  return namings(catalogue).filter(({ names, to, ...by }) => names === kind && to === key && by.key !== key)
}

/**
 * What is wrong in a catalogue, entry by entry; nothing where all is well. A fault that no check raises and a
 * job that cures nothing are not wrong: a person may add them to a bike by hand, and they are entered before
 * what will name them.
 */
export function catalogueProblems(catalogue: Catalogue): CatalogueProblem[] {
  return [
    ...repeatedKeys(catalogue),
    ...dangling(catalogue),
    ...catalogue.checks.flatMap((check) => checkProblems(check, catalogue.faults)),
    ...catalogue.faults.flatMap(faultProblems),
    ...circles(catalogue),
  ]
}

function repeatedKeys({ checks, faults, jobs, operations }: Catalogue): CatalogueProblem[] {
  const tables = { check: checks, fault: faults, job: jobs, operation: operations }
  return entryKinds.flatMap((kind) => {
    const seen = new Set<string>()
    return tables[kind].flatMap(({ key }): CatalogueProblem[] => {
      if (!seen.has(key)) {
        seen.add(key)
        return []
      }
      return [{ kind, key, field: 'key', says: 'This key is used twice.' }]
    })
  })
}

function dangling(catalogue: Catalogue): CatalogueProblem[] {
  const keysOf = (entries: readonly { key: string }[]) => new Set(entries.map(({ key }) => key))
  const there = {
    check: keysOf(catalogue.checks),
    fault: keysOf(catalogue.faults),
    job: keysOf(catalogue.jobs),
    operation: keysOf(catalogue.operations),
    caution: keysOf(catalogue.cautions),
  }
  return namings(catalogue)
    .filter(({ names, to }) => !there[names].has(to))
    .map(({ kind, key, field, names, to }) => ({
      kind,
      key,
      field,
      says: `There is no ${names} "${to}" in use. Choose another.`,
    }))
}

function checkProblems(check: Check, faults: readonly Fault[]): CatalogueProblem[] {
  const at = (field: string, says: string): CatalogueProblem => ({
    kind: 'check',
    key: check.key,
    field,
    says,
  })
  const problems = check.raises.flatMap((raise, index) => {
    const field = `raises.${index}`
    const found: CatalogueProblem[] = []
    if (!canHappen(check, raise.when)) found.push(at(field, whyNever(check, raise.when)))
    const settled = 'settles' in raise ? raise.settles : 'rulesOut' in raise ? raise.rulesOut : null
    const fault = settled && faults.find(({ key }) => key === settled.fault)
    if (settled && fault && !fault.causes?.some(({ job }) => job === settled.cause))
      found.push(
        at(field, `"${settled.cause}" is none of the causes of "${fault.title}". Choose one of them.`),
      )
    return found
  })
  return [...problems, ...(check.sort === 'look' ? answerProblems(check) : []), ...measuredProblems(check)]
}

function answerProblems(check: Extract<Check, { sort: 'look' }>): CatalogueProblem[] {
  const at = (field: string, says: string): CatalogueProblem => ({
    kind: 'check',
    key: check.key,
    field,
    says,
  })
  const keys = check.answers.map(({ key }) => key)
  // The place and the stance before a start: a bad answer keeps its round shut and is no fault of the bike.
  const isAboutPlace = check.gate !== undefined && check.raises.length === 0
  const heard = new Set(check.raises.flatMap(({ when }) => (when.on === 'answer' ? [when.answer] : [])))
  return [
    ...check.answers.flatMap(({ key, label, tone }, index) => {
      const field = `answers.${index}`
      if (keys.indexOf(key) !== index) return [at(field, `The answer "${label}" is there twice.`)]
      return tone === 'bad' && !isAboutPlace && !heard.has(key)
        ? [at(field, `"${label}" is a bad answer and raises no fault. Choose one under what it raises.`)]
        : []
    }),
    ...(check.answers.some(({ tone }) => tone === 'good')
      ? []
      : [at('answers', 'One answer must say that all is well.')]),
    ...(check.answers.every(({ tone }) => tone === 'good')
      ? [at('answers', 'One answer must say that something is not right.')]
      : []),
  ]
}

function measuredProblems(check: Check): CatalogueProblem[] {
  if (check.sort !== 'measured') return []
  const at = (field: string, says: string): CatalogueProblem => ({
    kind: 'check',
    key: check.key,
    field,
    says,
  })
  const { limit, saleLine, plausible, unit } = check
  // A line in another unit is left to whoever wrote it: the forms offer the check's own only.
  const outOfRange = (value: number | undefined) =>
    value !== undefined && (value <= plausible.min || value >= plausible.max)
  const lines = { limit, saleLine }
  const found = Object.entries(lines).flatMap(([name, line]) =>
    line?.unit === unit
      ? (['min', 'max'] as const).flatMap((side) =>
          outOfRange(line[side])
            ? [
                at(
                  `${name}.${side}`,
                  `A reading can only be between ${plausible.min} and ${plausible.max}. Give a figure inside that.`,
                ),
              ]
            : [],
        )
      : [],
  )
  if (limit && saleLine && limit.unit === saleLine.unit) {
    if (limit.min !== undefined && saleLine.min !== undefined && saleLine.min < limit.min)
      found.push(
        at('saleLine.min', 'The sale line must not allow what the limit forbids. Give at least the limit.'),
      )
    if (limit.max !== undefined && saleLine.max !== undefined && saleLine.max > limit.max)
      found.push(
        at('saleLine.max', 'The sale line must not allow what the limit forbids. Give at most the limit.'),
      )
  }
  return found
}

/** Which happenings each sort of check knows. */
function canHappen(check: Check, when: When): boolean {
  switch (when.on) {
    case 'answer':
      return check.sort === 'look' && check.answers.some(({ key }) => key === when.answer)
    case 'over':
    case 'under':
      return check.sort === 'number'
    case 'above-limit':
    case 'below-limit':
    case 'below-sale-line':
      return check.sort === 'measured'
    case 'older-than':
      return check.sort === 'code' && check.code === 'tyre-date'
    case 'outside':
      return check.sort === 'measured' || (check.sort === 'code' && check.code !== 'tyre-size')
  }
}

function whyNever(check: Check, when: When): string {
  if (when.on === 'answer' && check.sort === 'look')
    return `"${when.answer}" is none of its answers. Choose one of them, or take this line away.`
  return 'This can never happen in a check of this sort. Choose another.'
}

/** Shares are typed in per cent; thirds and sevenths of those do not add up to the last place. */
const shareSlack = 0.0015

function faultProblems(fault: Fault): CatalogueProblem[] {
  const at = (field: string, says: string): CatalogueProblem => ({
    kind: 'fault',
    key: fault.key,
    field,
    says,
  })
  const { call, locks = [], clearedBy, jobs, causes = [], diagnosis, noJobBecause, rechecks, hidden } = fault
  const found: CatalogueProblem[] = []
  const stops = call === 'stop'
  if (stops && locks.length === 0)
    found.push(at('locks', 'A stop shuts at least one round. Choose what it shuts.'))
  if (!stops && locks.length > 0) found.push(at('locks', 'Only a stop shuts a round. Take this out.'))
  if (stops && clearedBy === undefined) found.push(at('clearedBy', 'Say what opens it again.'))
  if (!stops && clearedBy !== undefined)
    found.push(at('clearedBy', 'Only a stop has to be opened. Take this out.'))
  if (rechecks.length === 0) found.push(at('rechecks', 'Name at least one check that proves the cure.'))
  const cures = jobs.length + causes.length
  if (cures === 0 && noJobBecause === undefined)
    found.push(at('jobs', 'Name the job that cures it, or say why no job does.'))
  if (cures > 0 && noJobBecause !== undefined)
    found.push(at('noJobBecause', 'A job cures it, so there is nothing to explain. Take this out.'))
  if (jobs.length > 0 && causes.length > 0)
    found.push(at('jobs', 'It has causes already, each with its job. Keep either jobs or causes.'))
  if (repeats(jobs)) found.push(at('jobs', 'A job stands here twice.'))
  if (causes.length === 1) found.push(at('causes', 'One cause alone is certain: name its job instead.'))
  if (repeats(causes.map(({ job }) => job))) found.push(at('causes', 'A cause stands here twice.'))
  const sum = causes.reduce((total, { share }) => total + share, 0)
  if (causes.length > 0 && Math.abs(sum - 1) > shareSlack)
    found.push(
      at('causes', `The shares add up to ${Math.round(sum * 1000) / 10} %. They must add up to 100 %.`),
    )
  if (diagnosis !== undefined && causes.length === 0)
    found.push(at('diagnosis', 'Only a fault with several causes is searched for. Take this out.'))
  for (const chances of [hidden, fault.nonRunner]) {
    if (!chances || (chances.kept <= chances.average && chances.average <= chances.neglected)) continue
    found.push(
      at('hidden', 'A bike that was cared for less hides it no less often. Put the chances in rising order.'),
    )
  }
  return found
}

function repeats(keys: readonly string[]): boolean {
  return new Set(keys).size < keys.length
}

/** Operations that need one another in a circle: each of them is told the way round. */
function circles({ operations }: Catalogue): CatalogueProblem[] {
  const byKey = new Map(operations.map((operation) => [operation.key, operation]))
  return operations.flatMap(({ key }): CatalogueProblem[] => {
    const way = wayBack(key, byKey)
    if (!way) return []
    const titles = way.map((step) => byKey.get(step)?.title ?? step).join(', then ')
    return [
      {
        kind: 'operation',
        key,
        field: 'needs',
        says: `It would need itself: ${titles}. Take one of them out.`,
      },
    ]
  })
}

/** The shortest way from an operation through what it needs back to itself; null where there is none. */
function wayBack(
  start: string,
  byKey: ReadonlyMap<string, { needs?: readonly string[] }>,
): readonly string[] | null {
  const seen = new Set<string>()
  let ways: (readonly string[])[] = [[start]]
  while (ways.length > 0) {
    const next: (readonly string[])[] = []
    for (const way of ways) {
      for (const to of byKey.get(way.at(-1) ?? '')?.needs ?? []) {
        if (to === start) return [...way, start]
        if (seen.has(to)) continue
        seen.add(to)
        next.push([...way, to])
      }
    }
    ways = next
  }
  return null
}

/** The fault a raise is about. */
export function faultNamed(raise: Raise): string {
  if ('fault' in raise) return raise.fault
  return 'settles' in raise ? raise.settles.fault : raise.rulesOut.fault
}
