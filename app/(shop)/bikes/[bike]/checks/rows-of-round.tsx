import type { StandPlace } from '../../../../../lib/core/checks/catalogue'
import { isOpen } from '../../../../../lib/shop/round-progress'
import { Disclosure } from '../../../../_ui/disclosure'
import { VerdictMark } from '../../../../_ui/marks'
import type { SeenCheck, SeenRound } from './as-seen-here'
import { roundWords, standWords } from './round-words'

/** All checks of the round in their order; a tap opens one. */
export function RowsOfRound({
  round,
  current,
  onOpen,
}: {
  round: SeenRound
  current: string | null
  onOpen: (check: string) => void
}) {
  return (
    <section aria-label={`All checks of the ${roundWords[round.round].name.toLowerCase()} round`}>
      <h2 className="border-b-2 border-ink pb-1 text-lg">
        {roundWords[round.round].name} round{' '}
        <span className="font-sans text-base font-normal text-soft">{roundWords[round.round].when}</span>
      </h2>
      <div className="gap-x-6 sm:columns-2 xl:columns-1">
        {byPlace(round.checks).map(({ place, rows }) => (
          <div key={place ?? 'round'}>
            {place && <h3 className="break-after-avoid pt-3 font-sans text-base">{standWords[place]}</h3>}
            <ol>
              {rows.map((row) => (
                <li key={row.check.key} className="break-inside-avoid border-b border-rule py-1">
                  <RowButton row={row} current={row.check.key === current} onOpen={onOpen} />
                </li>
              ))}
            </ol>
          </div>
        ))}
      </div>
      {round.notApplicable.length > 0 && (
        <div className="pt-2">
          <Disclosure
            summary={
              <span className="text-soft">
                {round.notApplicable.length} more do not apply to this kind of bike
              </span>
            }
          >
            <ul className="list-disc pl-6 text-soft">
              {round.notApplicable.map((title) => (
                <li key={title}>{title}</li>
              ))}
            </ul>
          </Disclosure>
        </div>
      )}
    </section>
  )
}

/** The checks in the order they stand in, which goes from place to place. */
function byPlace(checks: readonly SeenCheck[]): { place: StandPlace | null; rows: SeenCheck[] }[] {
  const groups: { place: StandPlace | null; rows: SeenCheck[] }[] = []
  for (const row of checks) {
    const place = row.check.standAt ?? null
    const last = groups.at(-1)
    if (last?.place === place) last.rows.push(row)
    else groups.push({ place, rows: [row] })
  }
  return groups
}

/** One check in a list, with what it came to and whether it is asked again. */
export function RowButton({
  row,
  current,
  onOpen,
}: {
  row: SeenCheck
  current: boolean
  onOpen: (check: string) => void
}) {
  return (
    <button
      type="button"
      aria-current={current ? 'true' : undefined}
      onClick={() => onOpen(row.check.key)}
      className="flex min-h-(--target) w-full cursor-pointer flex-wrap items-center justify-between gap-x-2 border-l-8
                border-transparent py-1 pl-2 text-left hover:bg-wash aria-[current=true]:border-accent
                aria-[current=true]:bg-wash aria-[current=true]:font-semibold"
    >
      <span className="min-w-0">{row.check.title}</span>
      <RowState row={row} />
      {row.staleDays !== null && (
        <span className="w-full text-ochre">Asked again: {row.staleDays} days old</span>
      )}
    </button>
  )
}

/** The verdict, how many places are read, or nothing yet. */
function RowState({ row }: { row: SeenCheck }) {
  const { judgement } = row
  if (!isOpen(judgement)) return <VerdictMark verdict={judgement.verdict} />
  const read =
    judgement.verdict === 'not-judged' && judgement.found?.sort === 'measured' ? judgement.found : null
  if (!read) return <span className="sr-only">To do</span>
  const all = read.positions.length
  return (
    <span className="whitespace-nowrap font-semibold">
      {all - read.missing.length} of {all}
    </span>
  )
}
