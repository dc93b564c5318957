import { z } from 'zod'
import type { Decision } from '../core/checks/decision.input'
import { readCatalogue } from './catalogue'
import { deed, requireFresh } from './deed'
import { idOf, versionOf } from './fields'
import { refuse, refuseField } from './refusal'
import { typedDecision } from './typed-decision'

export const decideInput = z.strictObject({ bike: idOf, decision: typedDecision })

const aboutFaults = ['add-fault', 'drop-fault', 'change-call', 'choose-job'] as const

/**
 * Sets something against what the readings say: a fault or job added, dropped or changed, with the reason. A
 * later decision of the same kind about the same thing takes the place of the earlier.
 */
export const decide = deed(
  'decision:make',
  decideInput,
  async ({ bike: bikeId, decision }, { tx, now, who }) => {
    if (!(await tx.bike.findUnique({ where: { id: bikeId } })))
      return refuse('not-found', 'That bike is not there.')
    const { id, kind, key, reason, ...body } = decision
    if (!idOf.safeParse(id).success) return refuse('malformed', 'This page is out of date. Load it again.')

    if (await tx.decision.findUnique({ where: { id } }))
      return refuse('malformed', 'This was sent before and is written down. Load the page again.')

    const own = 'own' in body && body.own !== undefined
    const catalogue = await readCatalogue(tx)
    const standing = await tx.decision.findMany({ where: { bikeId, withdrawnAt: null } })
    const isKnown = (table: 'faults' | 'jobs', wanted: string) =>
      catalogue[table].some((entry) => entry.key === wanted) ||
      standing.some((row) => row.kind === addingTo[table] && row.key === wanted)
    const table = (aboutFaults as readonly string[]).includes(kind) ? 'faults' : 'jobs'
    if (!own && !isKnown(table, key)) return refuseField('decision.key', 'Choose one from the list.')
    const named = jobNamed(decision)
    if (named && !isKnown('jobs', named.job)) return refuseField(named.field, 'Choose a job from the list.')

    // Adding takes an earlier dropping back, and the other way round: only the last word stands.
    const opposite: Record<string, string> = {
      'add-fault': 'drop-fault',
      'drop-fault': 'add-fault',
      'add-job': 'drop-job',
      'drop-job': 'add-job',
    }
    const overtaken = [kind, ...(opposite[kind] ? [opposite[kind]] : [])]
    await tx.decision.updateMany({
      where: { bikeId, key, kind: { in: overtaken }, withdrawnAt: null },
      data: { withdrawnAt: now, version: { increment: 1 } },
    })
    await tx.decision.create({
      data: { id, bikeId, kind, key, body: JSON.stringify(body), reason, personId: who.personId, at: now },
    })
    return { answer: { decision: id }, event: { bikeId, body: decision } }
  },
)

const addingTo = { faults: 'add-fault', jobs: 'add-job' } as const

/** The job that a decision about a fault names, and the field it was chosen in. */
function jobNamed(decision: Decision): { job: string; field: string } | null {
  if (decision.kind === 'choose-job') return { job: decision.job, field: 'decision.job' }
  const job = decision.kind === 'add-fault' ? decision.own?.job : null
  return job ? { job, field: 'decision.own.job' } : null
}

export const withdrawDecisionInput = z.strictObject({ decision: idOf, version: versionOf })

export const withdrawDecision = deed('decision:make', withdrawDecisionInput, async (input, { tx, now }) => {
  const decision = await tx.decision.findUnique({ where: { id: input.decision } })
  if (!decision) return refuse('not-found', 'That decision is not there.')
  const { count } = await tx.decision.updateMany({
    where: { id: input.decision, version: input.version, withdrawnAt: null },
    data: { withdrawnAt: now, version: { increment: 1 } },
  })
  requireFresh(count, {})
  return { answer: {}, event: { bikeId: decision.bikeId, body: { withdrew: decision.id } } }
})
