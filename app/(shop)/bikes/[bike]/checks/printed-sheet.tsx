import { standing } from '../../../../../lib/core/checks/reading'
import { bikeName, numbersOf } from '../../../../_ui/bike-name'
import { formatDay } from '../../../../_ui/formats'
import { VerdictMark } from '../../../../_ui/marks'
import type { SeenCheck, SeenSheet } from './as-seen-here'
import { readingWords } from './reading-words'
import { detailsOf } from './readings-taken'
import { roundWords } from './round-words'

/** The whole sheet for paper: every check with what was read, by whom, and the verdict. */
export function PrintedSheet({ sheet }: { sheet: SeenSheet }) {
  return (
    <div className="hidden flex-col gap-4 print:flex">
      <header>
        <p className="text-2xl font-semibold">Check sheet: {bikeName(sheet.bike)}</p>
        <p>
          {numbersOf(sheet.bike)}. As of {formatDay(sheet.asOf)}. {sheet.progress.done} of{' '}
          {sheet.progress.applicable} checks done; what is not checked is not known.
        </p>
      </header>
      {sheet.rounds.map((round) => (
        <table key={round.round} className="ledger table-fixed text-sm">
          <caption>
            <strong>{roundWords[round.round].name} round</strong>, {roundWords[round.round].when}
            {!round.open &&
              ` – shut: ${[...round.locks.map(({ title }) => title), ...round.shutHere].join(', ')}`}
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
        {standing(row.readings).map((reading) => {
          const place = places.find(({ key }) => key === reading.position)?.label
          const full = row.readings.find(({ id }) => id === reading.id)
          return (
            <p key={reading.id}>
              <strong>{readingWords(check, reading)}</strong>
              {place && ` · ${place}`} · {full && detailsOf(full, zone)}
            </p>
          )
        })}
      </td>
      <td>
        <VerdictMark verdict={judgement.verdict} />
        {check.sort === 'measured' && judgement.verdict !== 'not-checked' && <p>{judgement.says}</p>}
      </td>
    </tr>
  )
}
