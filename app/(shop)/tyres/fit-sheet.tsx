import type { TyrePoint } from '../../../lib/core/codes/tyre-fits'
import { Sheet } from '../../_ui/sheet'

const stands: Record<TyrePoint['stands'], { word: string; order: number }> = {
  broken: { word: 'Not so', order: 0 },
  'not-told': { word: 'Open', order: 1 },
  kept: { word: 'As asked', order: 2 },
}

/** The tyre against the model's sheet: what it does not keep stands first. */
export function FitSheet({ points }: { points: readonly TyrePoint[] }) {
  const broken = points.filter((point) => point.stands === 'broken').map(({ point }) => point)
  const sorted = points.toSorted((a, b) => stands[a.stands].order - stands[b.stands].order)
  return (
    <Sheet title="Against the model’s sheet">
      <p className="text-lg font-semibold">
        {broken.length === 0
          ? 'Nothing speaks against the sheet.'
          : `Not as the sheet asks: ${new Intl.ListFormat('en-GB').format(broken)}.`}
      </p>
      <ul className="mt-3 flex flex-col">
        {sorted.map((point) => (
          <li
            key={point.point}
            className="grid grid-cols-[5rem_1fr] gap-x-3 border-b border-rule py-2 last:border-0"
          >
            <span className={point.stands === 'broken' ? 'font-semibold text-plum' : 'text-soft'}>
              {stands[point.stands].word}
            </span>
            <span>{point.says}</span>
          </li>
        ))}
      </ul>
    </Sheet>
  )
}
