import type { Metadata } from 'next'
import Link from 'next/link'
import { type MoneyLack, moneyStanding, registerAnswerDays } from '../../../../../lib/core/checks/money-gate'
import type { Who } from '../../../../../lib/shop/deed'
import {
  type DistancePage,
  type IdentityPage,
  readDistancePage,
  readIdentityPage,
} from '../../../../../lib/shop/read-identity'
import { mayDo } from '../../../../../lib/shop/who-may'
import { found, openPage } from '../../../../../lib/web/pages'
import { bikeName, numbersOf } from '../../../../_ui/bike-name'
import { formatDistance } from '../../../../_ui/distance-words'
import type { FigureProps } from '../../../../_ui/figure'
import { countOf } from '../../../../_ui/formats'
import { StageMark } from '../../../../_ui/marks'
import { Caution, Notice } from '../../../../_ui/notes'
import { PageHead } from '../../../../_ui/page-head'
import { Sheet } from '../../../../_ui/sheet'
import { BikeNav } from '../../_ui/bike-nav'
import { DistanceSheet, verdictTitles } from './distance-sheet'
import { placeOfLack, stepOfLack } from './lack-places'
import { PointList } from './point-list'
import { RegisterList } from './register-list'

export const metadata: Metadata = { title: 'Identity' }

export default async function IdentityOfBikePage({ params }: { params: Promise<{ bike: string }> }) {
  const context = await openPage('/bikes/[bike]/identity')
  const { bike } = await params
  if (mayDo(context.who.roles, 'money:see'))
    return <ForMoney page={await found(readIdentityPage(context, bike))} who={context.who} />
  return <ForBench page={await found(readDistancePage(context, bike))} who={context.who} />
}

function ForBench({ page, who }: { page: DistancePage; who: Who }) {
  return (
    <main id="main" className="page bench">
      <PageHead
        title={bikeName(page)}
        sub={numbersOf(page)}
        figure={distanceFigure(page)}
        next={{ href: '#add-distance', label: 'Add a dated distance' }}
      >
        <StageMark stage={page.stage} />
      </PageHead>
      <BikeNav viewingNo={page.viewingNo} current="identity" who={who} />
      <DistanceSheet page={page} roles={who.roles} />
    </main>
  )
}

function ForMoney({ page, who }: { page: IdentityPage; who: Who }) {
  const mayNote = mayDo(who.roles, 'identity:note')
  const never = page.lacks.filter((lack) => lack.never)
  const ours = isOurs(page)
  return (
    <main id="main" className="page">
      <PageHead title={bikeName(page)} sub={numbersOf(page)} figure={mainFigure(page)} next={nextStep(page)}>
        <StageMark stage={page.stage} />
      </PageHead>
      <BikeNav viewingNo={page.viewingNo} current="identity" who={who} />
      {never.length > 0 && <NoWay lacks={never} ours={ours} />}
      {never.length === 0 && <Against lacks={page.lacks} ours={ours} />}
      <div className="grid items-start gap-6 lg:grid-cols-2">
        <Sheet
          id="registers"
          title="Registers"
          sub={`Asked before money is paid; an answer counts for ${registerAnswerDays} days. A write-off or a recall is told and changes the price.`}
        >
          <div className="mb-2">
            <Notice>
              This tool knows no register itself. Asking them, and which ones must be asked, is the dealer's
              own duty under the law of the place.
            </Notice>
          </div>
          <RegisterList page={page} mayNote={mayNote} />
        </Sheet>
        <Sheet id="points" title="Seller, numbers and keys" sub="As seen on the bike and on paper.">
          <PointList page={page} mayNote={mayNote} />
        </Sheet>
      </div>
      <DistanceSheet page={page} roles={who.roles} />
    </main>
  )
}

function NoWay({ lacks, ours }: { lacks: readonly MoneyLack[]; ours: boolean }) {
  return (
    <Caution title={ours ? 'Found out since it was bought' : 'There is no way to buy this bike'}>
      {lacks.map(({ of, about, says }) => (
        <p key={`${of} ${about}`} className="font-semibold">
          {says}
        </p>
      ))}
      {ours ? (
        <p>
          Do not sell it on and do not take it apart. What must be told to whom is for the law of the place
          and the police to say.
        </p>
      ) : (
        <p>
          Do not pay and do not take it in. Keep yourself safe with the seller; what must be told to whom, and
          whether it may leave, is for the law of the place and the police to say.
        </p>
      )}
    </Caution>
  )
}

/** What speaks against it stands at the head; what nobody has noted yet is said at its place. */
function Against({ lacks, ours }: { lacks: readonly MoneyLack[]; ours: boolean }) {
  const against = lacks.filter((lack) => lack.against)
  if (against.length === 0) return null
  return (
    <section aria-labelledby="against" className="flex flex-col gap-1 border-2 border-plum bg-plum-wash p-4">
      <h2 id="against">{ours ? 'To be settled' : 'Not to be bought as it stands'}</h2>
      <ul className="flex flex-col">
        {against.map((lack) => (
          <li key={`${lack.of} ${lack.about}`} className="border-b border-rule last:border-0">
            <Link href={placeOfLack(lack)} className="tap w-full">
              {lack.says}
            </Link>
          </li>
        ))}
      </ul>
    </section>
  )
}

/** No longer a viewing. */
function isOurs({ stage }: IdentityPage): boolean {
  return stage !== 'viewing' && stage !== 'offered'
}

function distanceFigure({ distances: { shown, verdict } }: DistancePage): Omit<FigureProps, 'size'> {
  const last = shown.at(-1)
  return {
    label: 'Distance',
    value: last ? formatDistance(last.distance, last.unit) : 'not noted',
    note: verdictTitles[verdict],
  }
}

function mainFigure(page: IdentityPage): Omit<FigureProps, 'size'> {
  const { lacks } = page
  const ours = isOurs(page)
  const label = 'Before money is paid'
  const missing = countOf(lacks.filter(({ against }) => !against).length, 'thing')
  switch (moneyStanding(lacks)) {
    case 'never':
      return ours
        ? { label: 'Since it was bought', value: 'Found stolen or altered' }
        : { label, value: 'May never be bought' }
    case 'not as it stands':
      return { label, value: ours ? 'To be settled' : 'Not as it stands' }
    case 'not yet':
      return { label, value: `${missing} missing` }
    case 'open':
      return { label, value: ours ? 'All noted' : 'May be bought' }
  }
}

function nextStep(page: IdentityPage): { href: string; label: string } {
  const { lacks, viewingNo } = page
  const at = `/bikes/${viewingNo}`
  const ours = isOurs(page)
  if (!ours && moneyStanding(lacks) === 'never') return { href: `${at}#go-on`, label: 'Pass it up' }
  const open = lacks.filter(({ never }) => !never)
  const first = open.find(({ against }) => against) ?? open[0]
  if (first) return { href: placeOfLack(first), label: stepOfLack(first) }
  return ours
    ? { href: at, label: 'Back to the bike' }
    : { href: `${at}#go-on`, label: 'Buy it or make an offer' }
}
