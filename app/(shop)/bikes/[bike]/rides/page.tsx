import type { Metadata } from 'next'
import { type RideShown, type Rides, readRides } from '../../../../../lib/shop/read-rides'
import { toDoFirst } from '../../../../../lib/shop/round-shut'
import { found, openPage } from '../../../../../lib/web/pages'
import { bikeName, numbersOf } from '../../../../_ui/bike-name'
import { distanceVerdictWords, formatDistance } from '../../../../_ui/distance-words'
import type { FigureProps } from '../../../../_ui/figure'
import { formatDay, formatInstant, formatNumber, formatTime } from '../../../../_ui/formats'
import { Caution } from '../../../../_ui/notes'
import { PageHead } from '../../../../_ui/page-head'
import { Sheet } from '../../../../_ui/sheet'
import { BikeNav } from '../../_ui/bike-nav'
import { minutesWords } from '../bench/bench-words'
import { ShutBy } from '../checks/shut-by'
import { InForm, OutForm } from './ride-forms'
import { purposeWords } from './ride-words'

export const metadata: Metadata = { title: 'Rides' }

export default async function RidesPage({ params }: { params: Promise<{ bike: string }> }) {
  const context = await openPage('/bikes/[bike]/rides')
  const { bike } = await params
  const rides = await found(readRides(context, bike))
  const { viewingNo, out, past, law, zone } = rides
  return (
    <main id="main" className="page bench">
      <PageHead
        title={bikeName(rides)}
        sub={numbersOf(rides)}
        figure={mainFigure(rides)}
        next={nextStep(rides)}
      />
      <BikeNav viewingNo={viewingNo} current="rides" who={context.who} />
      {out ? (
        <Sheet id="in" title="Out now">
          <div className="flex flex-col gap-4">
            <div>
              <RideWords ride={out} zone={zone} />
            </div>
            <RoadCaution rides={rides} />
            <InForm ride={out} />
          </div>
        </Sheet>
      ) : (
        <NextRide rides={rides} />
      )}
      {past.length > 0 && (
        <Sheet title="Rides so far">
          <ul className="flex flex-col">
            {past.map((ride) => (
              <li key={ride.id} className="border-b border-rule py-3 first:pt-0 last:border-0 last:pb-0">
                <RideWords ride={ride} zone={zone} />
              </li>
            ))}
          </ul>
        </Sheet>
      )}
      {law && <Caution title={law.title}>{law.says}</Caution>}
    </main>
  )
}

function RoadCaution({ rides: { roadCaution } }: { rides: Rides }) {
  return roadCaution && <Caution title={roadCaution.title}>{roadCaution.says}</Caution>
}

/** The form where the road is open; else what keeps it shut, in the words of the check sheet. */
function NextRide({ rides }: { rides: Rides }) {
  const { road, id, viewingNo, mayClear, zone } = rides
  const needs = road.needs.map((need) => ({ ...need, onItsWay: false }))
  const isNamed = road.locks.length + needs.length + road.states.length + road.openWork.length > 0
  return (
    <>
      {isNamed && (
        <section
          id="shut"
          aria-label={road.open ? 'The road is open for now' : 'The road is shut'}
          className="flex flex-col gap-3 border-2 border-plum bg-plum-wash p-4"
        >
          <h2>{road.open ? 'The road is open for now' : 'The road is shut'}</h2>
          {!road.open && <p>Nobody rides this bike before this is dealt with.</p>}
          <ShutBy shut={{ ...road, needs }} bike={{ id, viewingNo }} mayClear={mayClear} zone={zone} />
        </section>
      )}
      {road.open && (
        <Sheet
          id="out"
          title="Out"
          sub="Seen and written down before the wheels turn. The time is noted as you send it."
        >
          <div className="flex flex-col gap-4">
            <RoadCaution rides={rides} />
            <OutForm rides={rides} />
          </div>
        </Sheet>
      )}
    </>
  )
}

function RideWords({ ride, zone }: { ride: RideShown; zone: string }) {
  const { purpose, rider, licence, cover, plates, held, unit, distanceOut, outAt, back, note, who } = ride
  return (
    <>
      <div className="flex flex-wrap items-baseline justify-between gap-x-6">
        <h3>
          {purposeWords[purpose].label}: {rider}
        </h3>
        {back && (
          <p className="font-semibold">
            {formatNumber(back.ridden, 1)} {unit}, {minutesWords(back.minutes)}
          </p>
        )}
      </div>
      <p>
        Out {formatInstant(outAt, zone)} at {formatNumber(distanceOut, 1)} {unit}
        {back && (
          <>
            {'; in '}
            {formatInstant(back.at, zone)} at {formatNumber(back.distance, 1)} {unit}
          </>
        )}
        .
      </p>
      <p className="text-soft">
        Licence: {licence}. Cover: {cover}. Plates: {plates}.{held && ` Held: ${held}.`} Written down by {who}
        .
      </p>
      {note && <p>{note}</p>}
    </>
  )
}

function mainFigure({ out, last, unit, zone }: Rides): Omit<FigureProps, 'size'> {
  if (out) {
    return { label: 'Out since', value: formatTime(out.outAt, zone), note: out.rider }
  }
  if (!last) return { label: 'On the clock', value: 'not known' }
  return {
    label: 'Last on the clock',
    value: formatDistance(last.distance, unit),
    note: `${formatDay(last.day)}; ${distanceVerdictWords[last.verdict]}`,
  }
}

/** In while it is out; out where the road is open; else the first thing that keeps the road shut. */
function nextStep({ out, road, viewingNo }: Rides): { href: string; label: string } {
  if (out) return { href: '#in', label: 'Note it back in' }
  if (road.open) return { href: '#out', label: 'Note a ride' }
  const at = `/bikes/${viewingNo}`
  if (road.states.length > 0) return { href: `${at}/bench#open`, label: 'Put back what is open' }
  if (road.openWork.length > 0) return { href: `${at}/bench`, label: 'Finish the work first' }
  const lock = road.locks.find(({ cleared }) => cleared === null)
  if (lock) return { href: '#shut', label: 'See why the road is shut' }
  const [need] = toDoFirst(road.needs)
  return need
    ? { href: `${at}/checks?check=${need.check}`, label: `Check: ${need.title}` }
    : { href: '#shut', label: 'See why the road is shut' }
}
