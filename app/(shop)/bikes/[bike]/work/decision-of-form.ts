import type { ThreePoint } from '../../../../../lib/core/quantity/three-point'
import { typedMoney } from '../../../../../lib/core/quantity/typed-money'
import type { WorkJob } from '../../../../../lib/shop/read-work'
import { inputOf } from '../../../../../lib/web/form-state'

type Figures = WorkJob['usual']

/** The figures of a job that a decision can change. */
const figureNames = ['hours', 'parts', 'outsideWork'] as const

/**
 * What a form for a decision sends. Figures of a job that still read as they do on every other bike are no part
 * of the decision: where the shop changes them later, this bike follows.
 */
export function decisionOfForm(form: FormData): unknown {
  const { usual, decision, ...rest } = inputOf(form)
  if (typeof usual !== 'object' || typeof decision !== 'object') return { ...rest, decision }
  const changed = { ...decision } as Record<string, unknown>
  for (const name of figureNames) {
    if (JSON.stringify(changed[name]) === (usual as Record<string, unknown>)[name]) delete changed[name]
  }
  return { ...rest, decision: changed }
}

/** The usual figures of a job as the untouched fields of its form would send them, by the field's name. */
export function usualAsSent({ hours, parts, outsideWork }: Figures): { name: string; value: string }[] {
  const lines = [...parts, { name: '', qty: 1, unitCost: 0 }].map(({ name, qty, unitCost }) => ({
    name,
    qty: String(qty),
    unitCost: threeAsSent(unitCost, typedMoney),
  }))
  const sent = {
    hours: threeAsSent(hours, String),
    parts: Object.fromEntries(lines.map((line, place) => [String(place), line])),
    outsideWork: threeAsSent(outsideWork, typedMoney),
  }
  return figureNames.map((name) => ({ name: `usual.${name}`, value: JSON.stringify(sent[name]) }))
}

function threeAsSent(value: ThreePoint | number, write: (value: number) => string) {
  const { low, likely, high } = typeof value === 'number' ? { low: value, likely: value, high: value } : value
  return { low: write(low), likely: write(likely), high: write(high) }
}
