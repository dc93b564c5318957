import Link from 'next/link'
import { modelAddress } from '../../../../lib/shop/model-address'
import type { ModelListed } from '../../../../lib/shop/model-sheet'
import { countOf } from '../../../_ui/formats'
import { EmptyState } from '../../../_ui/notes'

/** The models of the shop's bikes and limits, each with the way to its sheet. */
export function ModelList({ models }: { models: readonly ModelListed[] }) {
  if (models.length === 0) {
    return (
      <EmptyState title="None yet">A model stands here once a bike or a limit of it is entered.</EmptyState>
    )
  }
  return (
    <ul className="grid gap-x-8 sm:grid-cols-2">
      {models.map((one) => (
        <li
          key={`${one.make} ${one.model}`}
          className="flex flex-wrap items-center justify-between gap-x-4 border-b border-rule py-1"
        >
          <Link className="tap font-semibold" href={modelAddress(one)}>
            {one.make} {one.model}
          </Link>
          <span className="text-soft">
            {countOf(one.bikes, 'bike')}, {countOf(one.entries, 'limit')}
          </span>
        </li>
      ))}
    </ul>
  )
}
