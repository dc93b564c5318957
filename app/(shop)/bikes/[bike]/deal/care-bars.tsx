import type { CareTold } from '../../../../../lib/core/checks/care-signs'
import { type CareState, careStates } from '../../../../../lib/core/checks/catalogue'
import { formatShare } from '../../../../_ui/formats'
import { Sheet } from '../../../../_ui/sheet'

const stateWords: Record<CareState, string> = {
  kept: 'Well kept',
  average: 'Average',
  neglected: 'Neglected',
}

/** How the bike was cared for, before and after its tell-tales: a bar for each state, and what speaks for which. */
export function CareSheet({ care: { before, after, signs } }: { care: CareTold }) {
  return (
    <Sheet
      title="How it was cared for"
      sub={
        signs.length === 0
          ? 'No tell-tale has been looked at: the chances are the shop’s own for any bike.'
          : 'The chances the estimate rests on: the hollow bar before anybody looked, the full one after.'
      }
    >
      <table className="ledger">
        <caption className="sr-only">
          Chances of how it was cared for, before and after its tell-tales
        </caption>
        <thead>
          <tr>
            <th scope="col">Care</th>
            <th scope="col">
              <span className="sr-only">Drawn</span>
            </th>
            <th scope="col" className="num">
              Chance
            </th>
          </tr>
        </thead>
        <tbody>
          {careStates.map((state) => (
            <tr key={state}>
              <th scope="row" className="whitespace-nowrap">
                {stateWords[state]}
              </th>
              <td className="w-full">
                <svg aria-hidden="true" width="100%" height="42" className="block text-accent">
                  <rect
                    x="1"
                    y="6"
                    width={`${barOf(before[state])}%`}
                    height="8"
                    fill="none"
                    stroke="currentColor"
                    strokeWidth="1.5"
                  />
                  <rect x="1" y="24" width={`${barOf(after[state])}%`} height="14" fill="currentColor" />
                </svg>
              </td>
              <td className="num whitespace-nowrap">
                <span className="block text-sm text-soft">{formatShare(before[state])} before</span>
                <span className="block font-semibold">{formatShare(after[state])} after</span>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {signs.length > 0 && (
        <ul className="mt-4 flex flex-col gap-1">
          {signs.map(({ sign, title, says, likelihood }) => (
            <li key={sign}>
              <strong>
                {title}: {says}.
              </strong>{' '}
              Seen on {formatShare(likelihood.kept)} of well-kept bikes, {formatShare(likelihood.average)} of
              average, {formatShare(likelihood.neglected)} of neglected ones.
            </li>
          ))}
        </ul>
      )}
    </Sheet>
  )
}

/** Per cent of the width; one per cent stays free for the line around. */
function barOf(chance: number): number {
  return Math.round(chance * 9900) / 100
}
