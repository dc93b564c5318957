import type { DistanceTold } from '../../../../../lib/shop/distances-of'
import { bikeName, numbersOf } from '../../../../_ui/bike-name'
import { DistanceOnPaper } from '../../../../_ui/distance-on-paper'
import { formatDay } from '../../../../_ui/formats'
import { VerdictMark } from '../../../../_ui/marks'
import type { SeenCheck, SeenSheet } from './as-seen-here'
import { readingWords } from './reading-words'
import { detailsOf, taken, Words } from './readings-taken'
import { roundWords } from './round-words'
import { shutByWords } from './shut-words'

/** The whole sheet for paper: every check with what was read, by whom, and the verdict. */
export function PrintedSheet({ sheet, distance }: { sheet: SeenSheet; distance: DistanceTold }) {
  return (
    <div className="hidden flex-col gap-4 print:flex">
      <header>
        <p className="text-2xl font-semibold">Check sheet: {bikeName(sheet.bike)}</p>
        <p>
          {numbersOf(sheet.bike)}. As of {formatDay(sheet.asOf)}. {sheet.progress.done} of{' '}
          {sheet.progress.applicable} checks done; what is not checked is not known.
        </p>
        <DistanceOnPaper told={distance} />
      </header>
      {sheet.rounds.map((round) => (
        <table key={round.round} className="ledger table-fixed text-sm">
          <caption>
            <strong>{roundWords[round.round].name} round</strong>, {roundWords[round.round].when}
            {!round.open && ` – shut: ${shutByWords(round)}`}
          </caption>
          <thead>
            <tr>
              <th scope="col" className="w-1/4">
                Check
              </th>
              <th scope="col" className="w-5/12">
                Readings
              </th>
              <th scope="col">Verdict</th>
            </tr>
          </thead>
          <tbody>
            {round.checks.map((row) => (
              <PrintedRow key={row.check.key} row={row} zone={sheet.zone} />
            ))}
          </tbody>
        </table>
      ))}
      {sheet.law && (
        <p>
          <strong>{sheet.law.title}.</strong> {sheet.law.says}
        </p>
      )}
    </div>
  )
}

function PrintedRow({ row, zone }: { row: SeenCheck; zone: string }) {
  const { check, judgement } = row
  const places = check.sort === 'measured' ? check.positions : []
  return (
    <tr>
      <th scope="row">{check.title}</th>
      <td>
        {taken(row).map(({ reading, ended }) => {
          const place = places.find(({ key }) => key === reading.position)?.label
          return (
            <p key={reading.id}>
              <Words words={readingWords(check, reading)} ended={ended} zone={zone} />
              {place && ` · ${place}`} · {ended && 'taken by '}
              {detailsOf(reading, zone)}
            </p>
          )
        })}
      </td>
      <td>
        <VerdictMark verdict={judgement.verdict} />
        {saysMore(row) && <p>{judgement.says}</p>}
        {row.staleDays !== null && <p>Asked again: {row.staleDays} days old.</p>}
      </td>
    </tr>
  )
}

/** An answer that was judged is its own sentence; everything else has to be said beside its verdict. */
function saysMore({ check, judgement }: SeenCheck): boolean {
  if (judgement.verdict === 'not-checked') return false
  return check.sort === 'measured' || check.sort === 'code' || judgement.verdict === 'not-judged'
}
