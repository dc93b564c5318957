import { uuidv7 } from 'uuidv7'
import { z } from 'zod'
import { workOut } from '../core/board/bike-result'
import { scopeOfWork } from '../core/board/scope-of-work'
import { type Context, deed } from './deed'
import { readToWorkOut } from './facts'
import { idOf } from './fields'
import { bestNoted } from './noted-prices'
import { refuse } from './refusal'

export const followScopeInput = z.strictObject({ bike: idOf })

/**
 * Takes in, with one tap, every optional job that the best scope of work says pays and that nobody has decided on.
 * What pays is worked out afresh from what is stored, never taken from the page.
 */
export const followScope = deed('decision:make', followScopeInput, {
  prepare: async ({ bike }, { store, now }: Context) => {
    const { input, bike: row, shop, noted } = await readToWorkOut(store.db, { bikeId: bike, now })
    const { faults, jobs, dealInput, estimate } = workOut(input)
    const asked = {
      faults,
      jobs,
      dealInput,
      costMean: estimate.cost.mean,
      bestPrice: bestNoted(row, { shop, noted }),
    }
    const optional = scopeOfWork(input, asked)?.jobs ?? []
    return optional.filter(({ pays, decided }) => pays && decided === null).map(({ job }) => job)
  },
  work: async ({ bike: bikeId }, { tx, now, who }, jobs) => {
    if (jobs.length === 0) refuse('rule', 'There is nothing to take in: what pays is decided on already.')
    const reason = 'It pays, by the scope of work.'
    await tx.decision.createMany({
      data: jobs.map((key) => ({
        id: uuidv7(),
        bikeId,
        kind: 'add-job',
        key,
        body: '{}',
        reason,
        personId: who.personId,
        at: now,
      })),
    })
    return { answer: { jobs }, event: { bikeId, body: { kind: 'follow-scope', jobs, reason } } }
  },
})
