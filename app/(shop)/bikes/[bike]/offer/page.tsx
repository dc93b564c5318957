import type { Metadata } from 'next'
import Link from 'next/link'
import { type OfferForShop, readOfferForShop, readSellerOffers } from '../../../../../lib/shop/read-offer'
import { mayDo } from '../../../../../lib/shop/who-may'
import { found, openPage } from '../../../../../lib/web/pages'
import { bikeName, numbersOf } from '../../../../_ui/bike-name'
import { formatDay, formatMoney } from '../../../../_ui/formats'
import { StageMark } from '../../../../_ui/marks'
import { EmptyState, Notice } from '../../../../_ui/notes'
import { PageHead } from '../../../../_ui/page-head'
import { PrintButton } from '../../../../_ui/print-button'
import { Sheet } from '../../../../_ui/sheet'
import { BikeNav } from '../../_ui/bike-nav'
import { CounterForm } from './counter-form'
import { OfferList } from './offer-list'
import { SellerSheet } from './seller-sheet'

export const metadata: Metadata = { title: 'Offer' }

const beforeBuying: readonly string[] = ['viewing', 'offered']

type Asked = {
  params: Promise<{ bike: string }>
  searchParams: Promise<Record<string, string | string[] | undefined>>
}

/** The offers on a bike and the seller's sheet: on the seller's side all of the shop's own is left out. */
export default async function OfferPage({ params, searchParams }: Asked) {
  const context = await openPage('/bikes/[bike]/offer')
  const { bike: viewingNo } = await params
  const { offer } = await searchParams
  const asked = typeof offer === 'string' ? { offer } : {}
  const page = await found(readSellerOffers(context, { viewingNo, ...asked }))
  const { shown, sheet, currency, stage } = page
  const forShop = shown && mayDo(context.who.roles, 'money:see')
  const own = forShop ? await readOfferForShop(context, shown.id) : null
  const goesOn = beforeBuying.includes(stage)
  const isLatest = shown !== null && shown.id === page.offers[0]?.id
  return (
    <main id="main" className="page">
      <div className="no-print flex flex-col gap-6">
        <PageHead
          title={bikeName(page)}
          sub={numbersOf(page)}
          figure={
            shown
              ? {
                  label: 'Offered',
                  value: formatMoney(shown.priceMinor, currency),
                  note: `${shown.validUntil < page.today ? 'ran out on' : 'valid until'} ${formatDay(shown.validUntil)}`,
                }
              : undefined
          }
        >
          <StageMark stage={stage} />
        </PageHead>
        <BikeNav viewingNo={page.viewingNo} current="offer" who={context.who} />
      </div>
      <div className="mx-auto flex w-full max-w-2xl flex-col gap-6 print:max-w-none">
        {shown === null && (
          <NoOffer viewingNo={page.viewingNo} mayMake={goesOn && mayDo(context.who.roles, 'offer:make')} />
        )}
        {sheet && (
          <>
            <div className="no-print">
              <PrintButton>Print the seller&rsquo;s sheet</PrintButton>
            </div>
            <SellerSheet sheet={sheet} />
          </>
        )}
        {shown && !sheet && (
          <Notice title="This offer has no sheet">
            It was written down before sheets were kept. A new offer has one.
          </Notice>
        )}
        {shown && goesOn && isLatest && (
          <div className="no-print">
            <Sheet title="What was said to it" sub="Kept with the offer for good.">
              <CounterForm
                offer={shown.id}
                currency={currency}
                sides={context.who.sellerSide ? ['seller'] : ['seller', 'shop']}
              />
            </Sheet>
          </div>
        )}
        {page.offers.length > 0 && (
          <div className="no-print">
            <Sheet title="All offers">
              <OfferList page={page} notes={own?.notes ?? null} />
            </Sheet>
          </div>
        )}
        {own && <Rests own={own} />}
      </div>
    </main>
  )
}

function NoOffer({ viewingNo, mayMake }: { viewingNo: number; mayMake: boolean }) {
  return (
    <EmptyState
      title="No offer has been made on this bike."
      action={
        mayMake && (
          <Link href={`/bikes/${viewingNo}/deal#offer`} className="btn">
            Make an offer
          </Link>
        )
      }
    >
      Once one is written down its sheet for the seller stands here.
    </EmptyState>
  )
}

/** Whether the offer still comes out as it was written down. Of the shop's side: never beside the seller's sheet. */
function Rests({ own: { recomputed, who } }: { own: OfferForShop }) {
  return (
    <p className="no-print max-w-prose text-soft">
      Written down by {who}. {recomputedWords(recomputed)}
    </p>
  )
}

function recomputedWords(recomputed: OfferForShop['recomputed']): string {
  if (recomputed.state === 'no calculation')
    return 'It rests on no calculation: there was no sale price then.'
  const { state, differing, otherRules } = recomputed
  const rules =
    otherRules === null ? '' : ` It was worked out by rules ${otherRules}, which have changed since.`
  if (state === 'same')
    return `Worked out again from what it rested on, its price is the same to the penny.${rules}`
  return `Worked out again from what it rested on, it differs in ${differing.join(', ')}.${rules}`
}
