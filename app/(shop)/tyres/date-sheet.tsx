import type { TyreAges } from '../../../lib/core/checks/judge'
import type { AgedWeek, DateRead } from '../../../lib/shop/read-tyres'
import { Fact } from '../../_ui/fact'
import { formatDay, formatNumber } from '../../_ui/formats'
import { LimitScale } from '../../_ui/limit-scale'
import { Source } from '../../_ui/notes'
import { Sheet } from '../../_ui/sheet'

/** The week a tyre was made in, which half is which, and its age against what the shop works with. */
export function DateSheet({ read, ages }: { read: DateRead; ages: TyreAges }) {
  const { weeks, date, swapped } = read
  return (
    <Sheet title="When it was made">
      <dl className="grid gap-4 sm:grid-cols-2">
        {weeks.map((week) => (
          <Fact key={week.year} label="Made in" value={<Week week={week} />} strong wide />
        ))}
        {weeks.map(({ year, ageYears }) => (
          <Fact
            key={year}
            label={weeks.length > 1 ? `Age, if from ${year}` : 'Age'}
            value={`${formatNumber(ageYears, 1)} years`}
          />
        ))}
      </dl>
      <p className="mt-4 font-semibold">{standingSays(read, ages)}</p>
      <div className="mt-3">
        <LimitScale
          title="Age"
          unit="years"
          readings={weeks.map(({ year, ageYears }) => ({
            value: ageYears,
            label: weeks.length > 1 ? String(year) : undefined,
          }))}
          saleMax={ages.saleLine}
          max={ages.guidance}
        />
      </div>
      <Source
        kind="common practice"
        says="both ages are the shop’s own figures: no law on the age of a motorcycle’s tyres is known here, and guidance runs from five to ten years."
      />
      {swapped && <Halves swapped={swapped} week={weeks[0]} />}
      {!date.certain && <p className="mt-4">{date.notes.join(' ')}</p>}
      {date.certain && date.year < 2000 && <p className="mt-4">{date.notes[0]}</p>}
    </Sheet>
  )
}

function Week({ week: { week, year, from, to } }: { week: AgedWeek }) {
  return (
    <>
      Week {week} of {year}
      <span className="block text-base font-normal">
        Sunday {formatDay(from)} to Saturday {formatDay(to)}
      </span>
    </>
  )
}

function standingSays({ weeks, standing }: DateRead, { guidance, saleLine }: TyreAges): string {
  const open = weeks.length > 1 ? 'Even at the younger age it is ' : 'It is '
  if (standing === 'over-guidance') return `${open}over the guidance age of ${guidance} years: replace it.`
  if (standing === 'over-sale-line')
    return `${open}over the shop’s sale line of ${saleLine} years: not on a bike that the shop sells.`
  return `${open}inside the shop’s sale line of ${saleLine} years.`
}

/** The code in its two halves, and what it would mean if they were taken for one another. */
function Halves({
  swapped,
  week,
}: {
  swapped: NonNullable<DateRead['swapped']>
  week: AgedWeek | undefined
}) {
  const [second, first] = [swapped.code.slice(0, 2), swapped.code.slice(2)]
  return (
    <>
      <h3 className="mt-5">Which half is the week</h3>
      <dl className="mt-2 flex gap-3">
        {[
          { half: first, means: 'week' },
          { half: second, means: 'year' },
        ].map(({ half, means }) => (
          <div key={means} className="flex flex-col items-center border-2 border-ink bg-field px-5 py-2">
            <dt className="order-last text-soft">{means}</dt>
            <dd className="font-serif text-3xl font-semibold">{half}</dd>
          </div>
        ))}
      </dl>
      <p className="mt-3">{swapSays(swapped, week)}</p>
    </>
  )
}

function swapSays(
  { code, week: other }: NonNullable<DateRead['swapped']>,
  week: AgedWeek | undefined,
): string {
  const start = 'The week comes first, then the year. People often take them the other way round'
  if (!other) return `${start}; here that would be ${code}, a week that there has not been, so it shows.`
  if (other.from === week?.from) return `${start}; here both halves are the same and it makes no difference.`
  const years = Math.abs(other.ageYears - (week?.ageYears ?? other.ageYears))
  const looks = other.ageYears < (week?.ageYears ?? 0) ? 'younger' : 'older'
  return (
    `${start}: read so, it would be week ${other.week} of ${other.year}, ` +
    `and the tyre would look ${formatNumber(years, 1)} years ${looks} than it is.`
  )
}
