import type { PartSource } from '../../../lib/core/work/parts'
import type { LineShown } from '../../../lib/shop/read-parts'
import { countOf, formatDay, formatNumber, formatShare } from '../../_ui/formats'

export const sourceWords: Record<PartSource, string> = {
  maker: "the maker's",
  pattern: 'pattern',
  used: 'used',
  shelf: 'off the shelf',
  stock: 'out of what the shop has',
}

export const sourceChoices = [
  { value: 'maker', label: "The maker's", hint: 'As it came from new.' },
  { value: 'pattern', label: 'Pattern', hint: 'Made by somebody else to fit.' },
  { value: 'used', label: 'Used', hint: 'Off another bike.' },
]

/** "Intake boot × 4". */
export function pieces(part: string, qty: number): string {
  return qty === 1 ? part : `${part} × ${formatNumber(qty)}`
}

/** What is known of a line beside its part: source, number, supplier, when it is due. */
export function lineWords(line: LineShown): string {
  const { source, number, supplier, state, leadDays, neverChance, story } = line
  const words = [
    sourceWords[source],
    number && `number ${number}`,
    supplier && `of ${supplier.name}`,
    state === 'ordered' && dueWords(line),
    state === 'to order' && leadDays !== null && `${countOf(leadDays, 'day')} once ordered`,
    neverChance !== null && neverSays(neverChance),
    story,
  ].filter(Boolean)
  return `${words.join(', ')}.`.replace(/^./, (first) => first.toUpperCase())
}

/** Of something on its way or with somebody outside. */
export function dueWords({ dueOn }: { dueOn: string | null }): string {
  return dueOn === null ? 'no day was said' : `due ${formatDay(dueOn)}`
}

export function neverSays(chance: number): string {
  return `no longer made: ${formatShare(chance)} that it never comes`
}
