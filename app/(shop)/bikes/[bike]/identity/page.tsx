import type { Metadata } from 'next'
import Link from 'next/link'
import { type MoneyLack, registerAnswerDays } from '../../../../../lib/core/checks/money-gate'
import {
  type DistancePage,
  type IdentityPage,
  readDistancePage,
  readIdentityPage,
} from '../../../../../lib/shop/read-identity'
import { mayDo, type Role } from '../../../../../lib/shop/who-may'
import { found, openPage } from '../../../../../lib/web/pages'
import { bikeName, numbersOf } from '../../../../_ui/bike-name'
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
  const { roles } = context.who
  if (mayDo(roles, 'money:see'))
    return <ForMoney page={await found(readIdentityPage(context, bike))} roles={roles} />
  return <ForBench page={await found(readDistancePage(context, bike))} roles={roles} />
}

function ForBench({ page, roles }: { page: DistancePage; roles: readonly Role[] }) {
  return (
    <main id="main" className="page bench">
      <PageHead
        title={bikeName(page)}
        sub={numbersOf(page)}
        figure={{ label: 'Distance', value: verdictTitles[page.distances.verdict] }}
        next={{ href: '#distance', label: 'Look at the distances' }}
      >
        <StageMark stage={page.stage} />
      </PageHead>
      <BikeNav viewingNo={page.viewingNo} current="identity" roles={roles} />
      <DistanceSheet page={page} roles={roles} />
    </main>
  )
}

function ForMoney({ page, roles }: { page: IdentityPage; roles: readonly Role[] }) {
  const mayNote = mayDo(roles, 'identity:note')
  const never = page.lacks.filter((lack) => lack.never)
  return (
    <main id="main" className="page">
      <PageHead title={bikeName(page)} sub={numbersOf(page)} figure={mainFigure(page)} next={nextStep(page)}>
        <StageMark stage={page.stage} />
      </PageHead>
      <BikeNav viewingNo={page.viewingNo} current="identity" roles={roles} />
      {never.length > 0 && <NoWay lacks={never} ours={!beforeBuying.includes(page.stage)} />}
      {page.lacks.length > 0 && never.length === 0 && <Missing page={page} />}
      <div className="grid items-start gap-6 lg:grid-cols-2">
        <Sheet
          id="registers"
          title="Registers"
          sub={`Asked before money is paid; an answer counts for ${registerAnswerDays} days. A write-off or a recall is told and changes the price.`}
        >
          <Notice>
            This tool knows no register itself. Asking them, and which ones must be asked, is the dealer's own
            duty under the law of the place.
          </Notice>
          <RegisterList page={page} mayNote={mayNote} />
        </Sheet>
        <Sheet id="points" title="Seller, numbers and keys" sub="As seen on the bike and on paper.">
          <PointList page={page} mayNote={mayNote} />
        </Sheet>
      </div>
      <DistanceSheet page={page} roles={roles} />
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

function Missing({ page }: { page: IdentityPage }) {
  return (
    <Sheet title="Missing">
      <ul className="flex flex-col">
        {page.lacks.map((lack) => (
          <li key={`${lack.of} ${lack.about}`} className="border-b border-rule last:border-0">
            <Link href={placeOfLack(lack)} className="tap w-full">
              {lack.says}
            </Link>
          </li>
        ))}
      </ul>
    </Sheet>
  )
}

const beforeBuying: readonly string[] = ['viewing', 'offered']

function mainFigure({ lacks, stage }: IdentityPage): Omit<FigureProps, 'size'> {
  const label = 'Before money is paid'
  const ours = !beforeBuying.includes(stage)
  if (lacks.some(({ never }) => never))
    return ours
      ? { label: 'Since it was bought', value: 'Found stolen or altered' }
      : { label, value: 'May never be bought' }
  if (lacks.length > 0) return { label, value: `${countOf(lacks.length, 'thing')} missing` }
  return { label, value: ours ? 'All noted' : 'May be bought' }
}

function nextStep({ lacks, stage, viewingNo }: IdentityPage): { href: string; label: string } {
  const at = `/bikes/${viewingNo}`
  const open = beforeBuying.includes(stage)
  if (open && lacks.some(({ never }) => never)) return { href: `${at}#go-on`, label: 'Pass it up' }
  const [first] = lacks.filter(({ never }) => !never)
  if (first) return { href: placeOfLack(first), label: stepOfLack(first) }
  return open
    ? { href: `${at}#go-on`, label: 'Buy it or make an offer' }
    : { href: at, label: 'Back to the bike' }
}
