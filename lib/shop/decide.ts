import { z } from 'zod'
import { decisionInput } from '../core/checks/decision.input'
import { readCatalogue } from './catalogue'
import { deed, requireFresh } from './deed'
import { idOf, versionOf } from './fields'
import { refuse, refuseField } from './refusal'

export const decideInput = z.strictObject({ bike: idOf, decision: decisionInput })

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

    const own = 'own' in body && body.own !== undefined
    const catalogue = await readCatalogue(tx)
    const standing = await tx.decision.findMany({ where: { bikeId, withdrawnAt: null } })
    const known = (aboutFaults as readonly string[]).includes(kind) ? catalogue.faults : catalogue.jobs
    const ownEarlier = standing.some((row) => row.key === key && row.kind.startsWith('add-'))
    if (!own && !ownEarlier && !known.some((entry) => entry.key === key)) {
      return refuseField('key', 'Choose one from the list.')
    }

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
