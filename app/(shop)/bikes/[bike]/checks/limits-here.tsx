import Link from 'next/link'
import { modelAddress } from '../../../../../lib/shop/model-address'
import type { Sheet } from '../../../../../lib/shop/read-sheet'
import { formatShare } from '../../../../_ui/formats'
import { LimitScale } from '../../../../_ui/limit-scale'
import { Source } from '../../../../_ui/notes'
import type { SeenCheck } from './as-seen-here'

/** What the reading is held against and where each figure comes from; drawn once there is something to draw. */
export function LimitsHere({ row, bike }: { row: SeenCheck; bike: Sheet['bike'] }) {
  const { limits, check, judgement } = row
  const found = 'found' in judgement && judgement.found?.sort === 'measured' ? judgement.found : null
  const limit = found?.limit ?? null
  const several = (found?.positions.length ?? 0) > 1
  return (
    <div className="flex flex-col gap-2">
      {limits.map(({ at, words, sources, saleWords }) => (
        <div key={at.join()}>
          <p>
            <strong>Limit{at.length > 0 ? ` (${at.join(', ')})` : ''}:</strong>{' '}
            {words ?? 'set by model. Nothing is judged until it is entered.'}
            {saleWords && (
              <>
                {' '}
                <strong>Sale line:</strong> {saleWords}.
              </>
            )}
          </p>
          {sources.map(({ kind, says }) => (
            <Source key={says} kind={kind} says={says} />
          ))}
        </div>
      ))}
      {limits.some(({ words }) => words === null) && (
        <Link href={modelAddress(bike)} className="tap self-start print:hidden">
          All limits of this model
        </Link>
      )}
      {found && found.wearLeft !== null && (
        <p>
          <strong>Wear left:</strong> {wearWords(found.wearLeft)}
        </p>
      )}
      {found && limit && (
        <LimitScale
          title={check.title}
          unit={limit.unit}
          min={limit.min?.value ?? null}
          max={limit.max?.value ?? null}
          asNew={limit.asNew}
          saleMin={limit.saleMin?.value ?? null}
          saleMax={limit.saleMax?.value ?? null}
          readings={found.positions.flatMap(({ value, label }) =>
            value === null
              ? []
              : [{ value, plusMinus: 2 * found.standardUncertainty, ...(several && { label }) }],
          )}
        />
      )}
    </div>
  )
}

/** 1 is as new, 0 at the limit. */
function wearWords(left: number): string {
  if (left <= 0) return 'none; it is past its limit.'
  return `${formatShare(Math.min(left, 1))} of what there is between new and the limit.`
}
