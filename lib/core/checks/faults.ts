import { type BikeKind, fitsKind } from './bike-kind'
import {
  type Call,
  type Catalogue,
  type Check,
  calls,
  type Fault,
  type LockKind,
  type Source,
} from './catalogue'
import { type Cause, narrowCauses } from './causes'
import { afterCleanAnswer, anyOf, type CareChance, impossible } from './chance'
import type { Decision, DecisionOf } from './decision.input'
import { decisionOn, decisionsOf, madeBefore } from './decisions'
import { type Ask, askOf, type Evidence, evidenceOf } from './evidence'
import { earlierEvidence, type FoundEarlier } from './found-earlier'
import { type ChanceReason, type HiddenTerms, hiddenChanceOf, saysRefused } from './hidden'
import type { Judgement } from './judge'
import { curesOf, type WorkDone } from './work-done'

type FaultStateBase = {
  fault: string
  title: string
  means: string
  /** What it demands now: the catalogue's call, raised by the sale line, or what a person set. */
  call: Call
  /** The call before any decision. */
  derivedCall: Call
  changedCall: DecisionOf<'change-call'> | null
  locks: readonly LockKind[]
  clearedBy: 'job' | 'reason'
  /** Alternatives, the one in force first; empty where no work cures it or where causes are given. */
  jobs: readonly string[]
  chosenJob: DecisionOf<'choose-job'> | null
  /** Exactly one of these is true; shares sum to 1. Empty where the fault has no causes. */
  causes: readonly Cause[]
  /** The job that finds out which cause it is, while more than one is possible; else null. */
  diagnosis: string | null
  rechecks: readonly string[]
  saleOffMinor: number
  /** Days longer for sale where it is left. */
  slowerDays: number
  /** The finished job that should have cured it, while no later reading says whether it did. */
  awaitsRecheck: WorkDone | null
  because: readonly Evidence[]
  /** How the chance of an open fault came about, step by step; empty where it is 0 or the fault is settled. */
  chanceBecause: readonly ChanceReason[]
  /** Keys of the checks that can raise it and have no verdict yet. */
  openChecks: readonly string[]
  source: Source | null
}

/** Where one fault stands on one bike. `chance` is the chance that it is there. */
export type FaultState = FaultStateBase &
  (
    | { state: 'found'; chance: 1 }
    | { state: 'added'; chance: 1; decision: DecisionOf<'add-fault'> }
    /** None of its checks has settled it. */
    | { state: 'open'; chance: CareChance }
    | { state: 'clear'; chance: 0 }
    | {
        state: 'dropped'
        chance: 0
        decision: DecisionOf<'drop-fault'>
        was: 'found' | 'added' | 'open' | 'clear'
      }
  )

/** One check's word on one fault. */
type Word = { check: Check; judgement: Judgement; ask: Ask }

/**
 * Where every fault of the catalogue that can be on this kind of bike stands, in the catalogue's order, then
 * the ones a person described. A fault is found where a verdict or an answer raises it, or where a look names
 * one of its causes. It is clear where one of its checks is answered and raises nothing; a check that misses
 * some faults leaves a smaller chance instead. While none is answered its hidden chance stands (`hiddenChanceOf`),
 * raised where the seller refused one of them; a reading too close to call puts the chance that the limit is broken in its place. Decisions come last and keep their
 * reason: a later one on the same fault replaces an earlier one of its kind (ids sort by time).
 */
export function deriveFaults(asked: {
  catalogue: Pick<Catalogue, 'checks' | 'faults' | 'jobs'>
  kind: BikeKind
  judgements: readonly Judgement[]
  decisions: readonly Decision[]
  /** Work that was finished on the bike. */
  finished?: readonly WorkDone[]
  /** For each check the instant since which all of it that stands was read. */
  lastRead?: ReadonlyMap<string, string>
  /** Answers of before that keep a fault which only its job clears. */
  earlier?: ReadonlyMap<string, FoundEarlier>
  /** It cannot be started where it stands, so what only a running engine tells is likelier to be wrong. */
  nonRunner?: boolean
  /** What the shop sets about hidden chances; left out, the catalogue's stand as they are. */
  hidden?: HiddenTerms
  /** Age of the bike by its model year; null or left out where nobody knows. */
  ageYears?: number | null
}): FaultState[] {
  const { catalogue, kind, judgements, decisions, finished = [], lastRead = new Map() } = asked
  const { nonRunner = false, earlier = new Map<string, FoundEarlier>() } = asked
  const { hidden: terms = null, ageYears = null } = asked
  const words = wordsByFault(catalogue.checks, judgements)
  const fits = (fault: Fault) =>
    fitsKind(kind, fault.appliesTo) || decisionOn(decisions, 'add-fault', fault.key) !== null
  const known = catalogue.faults.filter(fits).map((fault) => {
    const cure = cureOf(fault, { catalogue, kind, words, finished, lastRead })
    const said = words.get(fault.key) ?? noWords
    const refused = refusedOf(said.raises)
    const hidden = hiddenChanceOf({ fault, nonRunner, ageYears, refused, terms })
    const stays = staying(earlier.get(fault.key), cure)
    return derive({ fault, hidden, words: said, catalogue, kind, decisions, cure, stays })
  })
  return [...known, ...describedByHand(catalogue.faults, decisions)]
}

/** Severest of several calls; `leave` of none. */
export function severest(of: readonly Call[]): Call {
  return calls.find((call) => of.includes(call)) ?? 'leave'
}

type Hidden = ReturnType<typeof hiddenChanceOf>

/** The first check of a fault that was left out because the seller refused it. */
function refusedOf(words: readonly Word[]): { check: string; title: string } | null {
  const refused = words.find(
    ({ judgement }) => judgement.verdict === 'not-checked' && saysRefused(judgement.because),
  )
  return refused ? { check: refused.check.key, title: refused.check.title } : null
}

type WordsOnFault = {
  raises: Word[]
  causes: { word: Word; settles: boolean; job: string }[]
}
const noWords: WordsOnFault = { raises: [], causes: [] }

function wordsByFault(checks: readonly Check[], judgements: readonly Judgement[]): Map<string, WordsOnFault> {
  const judged = new Map(judgements.map((judgement) => [judgement.check, judgement]))
  const words = new Map<string, WordsOnFault>()
  const of = (fault: string) => {
    const found = words.get(fault) ?? { raises: [], causes: [] }
    words.set(fault, found)
    return found
  }
  for (const check of checks) {
    const judgement = judged.get(check.key)
    if (!judgement || judgement.verdict === 'does-not-apply') continue
    for (const raise of check.raises) {
      const word = { check, judgement, ask: askOf(check, judgement, raise) }
      if ('fault' in raise) of(raise.fault).raises.push(word)
      else if ('settles' in raise) {
        of(raise.settles.fault).causes.push({ word, settles: true, job: raise.settles.cause })
      } else of(raise.rulesOut.fault).causes.push({ word, settles: false, job: raise.rulesOut.cause })
    }
  }
  return words
}

function derive(asked: {
  fault: Fault
  hidden: Hidden
  words: WordsOnFault
  catalogue: Pick<Catalogue, 'jobs'>
  kind: BikeKind
  decisions: readonly Decision[]
  cure: Cure | null
  stays: FoundEarlier | null
}): FaultState {
  const { fault, decisions, cure } = asked
  const words = cure?.proven ? withoutFiringBefore(asked.words, cure) : asked.words
  const settling = words.causes.filter(({ word, settles }) => settles && word.ask.is === 'fires')
  const firing = [...words.raises, ...settling.map(({ word }) => word)].filter(
    ({ ask }) => ask.is === 'fires',
  )
  const standing = standingOf(firing, { ...asked, words })
  const chosenJob = decisionOn(decisions, 'choose-job', fault.key)
  const narrowed = narrowCauses({
    causes: possibleCauses(fault, asked.catalogue, asked.kind),
    chance: standing.chance,
    named: chosenJob ? [chosenJob.job] : settling.map(({ job }) => job),
    ruledOut: words.causes
      .filter(({ word, settles }) => !settles && word.ask.is === 'fires')
      .map(({ word, job }) => ({ job, detects: word.check.detects ?? 1 })),
  })
  const onSaleLine = firing.some(({ ask }) => ask.is === 'fires' && ask.onSaleLine)
  const derivedCall = onSaleLine ? severest([fault.call, 'must']) : fault.call
  const changedCall = decisionOn(decisions, 'change-call', fault.key)
  const base: FaultStateBase = {
    fault: fault.key,
    title: fault.title,
    means: fault.means,
    call: changedCall?.call ?? derivedCall,
    derivedCall,
    changedCall,
    locks: fault.locks ?? [],
    clearedBy: fault.clearedBy ?? 'reason',
    jobs: fault.causes ? [] : chosenFirst(fault.jobs, chosenJob),
    chosenJob,
    causes: narrowed.causes,
    diagnosis: narrowed.causes.length > 1 ? (fault.diagnosis ?? null) : null,
    rechecks: fault.rechecks,
    saleOffMinor: fault.saleOffMinor ?? 0,
    slowerDays: fault.slowerDays ?? 0,
    awaitsRecheck: cure && !cure.proven && !cure.firesSince ? cure.done : null,
    because: [...standing.because, ...narrowing(words)],
    chanceBecause: standing.state === 'open' ? chanceBecause(standing, words) : [],
    openChecks: unique(words.raises.filter(({ ask }) => ask.is === 'open').map(({ check }) => check.key)),
    source: fault.source,
  }
  const derived = standing.state === 'open' ? { ...standing, chance: narrowed.chance } : standing
  const standingDecisions = cure?.proven
    ? decisions.filter((one) => !isAnswered(one, fault, cure))
    : decisions
  return withDecisions({ ...base, ...stateOf(derived) }, standingDecisions)
}

function standingOf(
  firing: readonly Word[],
  { stays, hidden, words }: { stays: FoundEarlier | null; hidden: Hidden; words: WordsOnFault },
): Standing {
  if (firing.length > 0) return foundBy(firing)
  if (stays) return { state: 'found', chance: 1, because: [earlierEvidence(stays)] }
  return notFound(hidden, words.raises)
}

/** What was found earlier stays until a cure finished after it is proven. */
function staying(earlier: FoundEarlier | undefined, cure: Cure | null): FoundEarlier | null {
  if (!earlier) return null
  return cure?.proven && Date.parse(cure.done.at) > Date.parse(earlier.at) ? null : earlier
}

/** What finished work has to say about one fault. */
type Cure = {
  done: WorkDone
  /** Every check that proves the cure was read since, and none of them raises the fault. */
  proven: boolean
  /** A check raises the fault anew. */
  firesSince: boolean
  readSince: (check: string) => boolean
}

/**
 * The last finished job that cures the fault, and whether it is proven: a job done closes nothing by itself,
 * the rechecks named on the fault do. A fault that names none, or whose rechecks this kind of bike does not
 * have, stays until a person drops it with a reason.
 */
function cureOf(
  fault: Fault,
  given: {
    catalogue: Pick<Catalogue, 'checks'>
    kind: BikeKind
    words: ReadonlyMap<string, WordsOnFault>
    finished: readonly WorkDone[]
    lastRead: ReadonlyMap<string, string>
  },
): Cure | null {
  const { catalogue, kind, finished, lastRead } = given
  const cures = curesOf(fault)
  const [done] = finished
    .filter(({ job }) => cures.includes(job))
    .sort((a, b) => Date.parse(b.at) - Date.parse(a.at))
  if (!done) return null
  const readSince = (check: string) => Date.parse(lastRead.get(check) ?? '') > Date.parse(done.at)
  const proving = catalogue.checks.filter(
    ({ key, appliesTo }) => fault.rechecks.includes(key) && fitsKind(kind, appliesTo),
  )
  const words = given.words.get(fault.key)?.raises ?? []
  const firesSince = words.some(({ check, ask }) => ask.is === 'fires' && readSince(check.key))
  const answered = proving.every((check) => {
    const said = words.filter((word) => word.check.key === check.key)
    return readSince(check.key) && said.every(({ ask }) => ask.is === 'clean')
  })
  return { done, proven: proving.length > 0 && answered && !firesSince, firesSince, readSince }
}

/** What was seen before the work no longer speaks once the cure is proven. */
function withoutFiringBefore({ raises, causes }: WordsOnFault, { readSince }: Cure): WordsOnFault {
  return {
    raises: raises.filter(({ check, ask }) => ask.is !== 'fires' || readSince(check.key)),
    causes: causes.filter(({ word }) => readSince(word.check.key)),
  }
}

/** A fault that a person added before the work is answered by the work and its rechecks. */
function isAnswered(decision: Decision, fault: Fault, { done }: Cure): boolean {
  if (decision.kind !== 'add-fault' || decision.key !== fault.key) return false
  return madeBefore(decision, done.at)
}

type Standing =
  | { state: 'found'; chance: 1; because: Evidence[] }
  | { state: 'open'; chance: CareChance; because: Evidence[]; reasons: ChanceReason[] }
  | { state: 'clear'; chance: 0; because: Evidence[] }

function foundBy(firing: readonly Word[]): Standing {
  return { state: 'found', chance: 1, because: evidence(firing) }
}

function notFound(hidden: Hidden, words: readonly Word[]): Standing {
  const doubtful = words.filter(({ ask }) => ask.is === 'doubtful')
  if (doubtful.length > 0) {
    const chance = anyOf(doubtful.map(({ ask }) => (ask.is === 'doubtful' ? ask.chance : 0)))
    return {
      state: 'open',
      chance,
      because: evidence(doubtful),
      reasons: [{ from: 'doubt', titles: titlesOf(doubtful) }],
    }
  }
  const clean = cleanChecks(words)
  const left = clean.reduce(
    (chance, { check }) => afterCleanAnswer(chance, check.detects ?? 1),
    hidden.chance,
  )
  if (clean.length > 0 && impossible(left)) return { state: 'clear', chance: 0, because: evidence(clean) }
  const missed: ChanceReason[] = clean.length > 0 ? [{ from: 'clean', titles: titlesOf(clean) }] : []
  const reasons = impossible(left) ? [] : [...hidden.because, ...missed]
  return { state: 'open', chance: left, because: evidence(clean), reasons }
}

/** The steps to the chance, and the causes that were ruled out since they change it too. */
function chanceBecause(
  { reasons }: Extract<Standing, { state: 'open' }>,
  words: WordsOnFault,
): ChanceReason[] {
  const ruledOut = words.causes.filter(({ word, settles }) => !settles && word.ask.is === 'fires')
  if (reasons.length === 0 || ruledOut.length === 0) return reasons
  return [...reasons, { from: 'cause', titles: titlesOf(ruledOut.map(({ word }) => word)) }]
}

function titlesOf(words: readonly Word[]): string[] {
  return unique(words.map(({ check }) => check.title))
}

/** A check counts once and as clean only where none of its raises of this fault is still open. */
function cleanChecks(words: readonly Word[]): Word[] {
  const byCheck = new Map<string, Word[]>()
  for (const word of words) byCheck.set(word.check.key, [...(byCheck.get(word.check.key) ?? []), word])
  return [...byCheck.values()].flatMap((of) =>
    of.every(({ ask }) => ask.is === 'clean') ? of.slice(0, 1) : [],
  )
}

function stateOf(standing: Standing) {
  if (standing.state === 'open') return { state: standing.state, chance: standing.chance }
  const { because: _, ...state } = standing
  return state
}

function withDecisions(derived: FaultState, decisions: readonly Decision[]): FaultState {
  const added = decisionOn(decisions, 'add-fault', derived.fault)
  const dropped = decisionOn(decisions, 'drop-fault', derived.fault)
  const changed = derived.changedCall ?? derived.chosenJob
  const because = [derived.changedCall, derived.chosenJob].flatMap((d) => (d ? [wordOf(d)] : []))
  let now: FaultState = changed ? { ...derived, because: [...derived.because, ...because] } : derived
  if (added) {
    const words = [...now.because, wordOf(added)]
    now =
      now.state === 'found'
        ? { ...now, because: words }
        : {
            ...baseOf(now),
            because: words,
            chanceBecause: [],
            state: 'added',
            chance: 1,
            decision: added,
          }
  }
  if (!dropped || now.state === 'dropped') return now
  return {
    ...baseOf(now),
    because: [...now.because, wordOf(dropped)],
    chanceBecause: [],
    state: 'dropped',
    chance: 0,
    decision: dropped,
    was: now.state,
  }
}

function baseOf(state: FaultState): FaultStateBase {
  const { state: _, chance: __, ...base } = state
  return base
}

/** Faults that the catalogue does not know: what the person wrote is all there is. */
function describedByHand(known: readonly Fault[], decisions: readonly Decision[]): FaultState[] {
  const keys = new Set(known.map(({ key }) => key))
  return decisionsOf(decisions, 'add-fault')
    .filter(({ key }) => !keys.has(key))
    .map((added) => {
      const { own } = added
      const changedCall = decisionOn(decisions, 'change-call', added.key)
      const chosenJob = decisionOn(decisions, 'choose-job', added.key)
      const derivedCall = own?.call ?? 'must'
      return withDecisions(
        {
          fault: added.key,
          title: own?.title ?? added.key,
          means: added.reason,
          call: changedCall?.call ?? derivedCall,
          derivedCall,
          changedCall,
          locks: [],
          clearedBy: 'reason',
          jobs: chosenFirst(own?.job ? [own.job] : [], chosenJob),
          chosenJob,
          causes: [],
          diagnosis: null,
          rechecks: [],
          saleOffMinor: own?.saleOffMinor ?? 0,
          slowerDays: own?.slowerDays ?? 0,
          awaitsRecheck: null,
          because: [],
          chanceBecause: [],
          openChecks: [],
          source: null,
          state: 'added',
          chance: 1,
          decision: added,
        },
        decisions,
      )
    })
}

function possibleCauses(fault: Fault, { jobs }: Pick<Catalogue, 'jobs'>, kind: BikeKind): Cause[] {
  const fitting = (fault.causes ?? []).filter(({ job }) => {
    const known = jobs.find(({ key }) => key === job)
    return known ? fitsKind(kind, known.appliesTo) : true
  })
  const total = fitting.reduce((sum, { share }) => sum + share, 0)
  return fitting.map(({ job, share }) => ({ job, share: share / total }))
}

function narrowing(words: WordsOnFault): Evidence[] {
  return evidence(
    words.causes.filter(({ word, settles }) => !settles && word.ask.is === 'fires').map(({ word }) => word),
  )
}

function chosenFirst(jobs: readonly string[], chosen: DecisionOf<'choose-job'> | null): string[] {
  return chosen ? [chosen.job, ...jobs.filter((job) => job !== chosen.job)] : [...jobs]
}

function evidence(words: readonly Word[]): Evidence[] {
  const judgements = new Map(words.map(({ judgement }) => [judgement.check, judgement]))
  return [...judgements.values()].map(evidenceOf)
}

function wordOf(decision: Decision): Evidence {
  return { from: 'decision', decision: decision.id, says: decision.reason }
}

function unique(keys: readonly string[]): string[] {
  return [...new Set(keys)]
}
