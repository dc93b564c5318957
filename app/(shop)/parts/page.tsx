import { group } from 'd3-array'
import type { Metadata } from 'next'
import Link from 'next/link'
import { type NeedShown, type Parts, readParts } from '../../../lib/shop/read-parts'
import { type ListShown, type PartsMoney, readPartsMoney } from '../../../lib/shop/read-parts-money'
import { mayDo } from '../../../lib/shop/who-may'
import { openPage } from '../../../lib/web/pages'
import { Disclosure } from '../../_ui/disclosure'
import type { FigureProps } from '../../_ui/figure'
import { countOf, formatMoney } from '../../_ui/formats'
import { PartMark } from '../../_ui/marks'
import { Notice } from '../../_ui/notes'
import { PageHead } from '../../_ui/page-head'
import { Sheet } from '../../_ui/sheet'
import { AskForm } from './ask-form'
import { BikeLink, bikeWords } from './bike-link'
import { LineList } from './line-list'
import { pieces } from './parts-words'
import { SendForm, SentList } from './sent-list'
import { ShelfForm, ShelfList } from './shelf-list'
import { SupplierForm } from './supplier-form'

export const metadata: Metadata = { title: 'Parts' }

export default async function PartsPage() {
  const context = await openPage('/parts')
  const mayOrder = mayDo(context.who.roles, 'part:order')
  const parts = await readParts(context)
  const money = mayOrder ? await readPartsMoney(context) : null
  const { onTheWay, wrong, sentOut, shelf, bikes, today } = parts
  return (
    <main id="main" className="page">
      <PageHead
        title="Parts"
        sub="What the work on the shop's bikes needs, and how far it has come."
        figure={mainFigure(parts, money)}
        next={nextStep(parts, money)}
      />
      {money && money.lists.length > 0 && <Lists lists={money.lists} currency={money.currency} />}
      {money && <ToOrder parts={parts} money={money} />}
      {wrong.length > 0 && (
        <Sheet
          id="wrong"
          title="Came wrong"
          sub="A new one is to be ordered; the wrong one is to be dealt with."
        >
          <LineList lines={wrong} money={money} mayOrder={mayOrder} />
        </Sheet>
      )}
      <Sheet id="on-the-way" title="On its way">
        {onTheWay.length > 0 ? (
          <LineList lines={onTheWay} money={money} mayOrder={mayOrder} />
        ) : (
          <p>Nothing is on its way.</p>
        )}
      </Sheet>
      <Sheet id="out" title="With somebody outside">
        {sentOut.length > 0 ? <SentList sent={sentOut} money={money} /> : <p>Everything is in the shop.</p>}
        {bikes.length > 0 && (
          <div className="no-print">
            <Disclosure summary={<span className="font-semibold">Something goes out</span>}>
              <SendForm of={{ bikes }} today={today} />
            </Disclosure>
          </div>
        )}
      </Sheet>
      <Sheet id="shelf" title="On the shelf" sub="Off bikes that the shop broke, and what was left over.">
        {shelf.length > 0 ? <ShelfList shelf={shelf} /> : <p>Nothing lies on the shelf.</p>}
        <div className="no-print">
          <Disclosure summary={<span className="font-semibold">Put something on the shelf</span>}>
            <ShelfForm bikes={bikes} />
          </Disclosure>
        </div>
      </Sheet>
      {money ? <Suppliers money={money} /> : <ToOrder parts={parts} money={null} />}
    </main>
  )
}

function Lists({ lists, currency }: { lists: readonly ListShown[]; currency: string }) {
  return (
    <Sheet id="lists" title="On a list" sub="One for each supplier, across all bikes, until it is ordered.">
      <ul className="flex flex-col">
        {lists.map((list) => (
          <li
            key={list.supplier.id}
            className="flex flex-wrap items-center justify-between gap-x-6 border-b border-rule py-2 first:pt-0 last:border-0 last:pb-0"
          >
            <div>
              <h3>
                <Link href={`/parts/${list.supplier.id}`} className="tap">
                  {list.supplier.name}
                </Link>
              </h3>
              <p>
                {countOf(list.lines, 'part')} for {countOf(list.bikes, 'bike')}
                {list.unpriced > 0 && `, ${list.unpriced} without a price`}.
              </p>
            </div>
            <p className="text-right">
              <span className="font-semibold">{formatMoney(list.goodsMinor, currency)}</span>
              <br />
              {lackingWords(list, currency)}
            </p>
          </li>
        ))}
      </ul>
    </Sheet>
  )
}

function lackingWords({ lackingMinor, supplier }: ListShown, currency: string): string {
  if (lackingMinor > 0) return `${formatMoney(lackingMinor, currency)} short of the least they deliver for`
  return supplier.minimumMinor === null ? 'delivered from the first part on' : 'enough to be delivered'
}

function ToOrder({ parts, money }: { parts: Parts; money: PartsMoney | null }) {
  const { needs, together } = parts
  const byBike = [...group(needs, ({ bike }) => bike.id).values()]
  return (
    <Sheet
      id="to-order"
      title={money ? 'To ask for' : 'Still to be ordered'}
      sub={
        money
          ? 'Certain jobs need these, and they stand on no list yet.'
          : 'Certain jobs need these. A dealer or manager orders them.'
      }
    >
      {together.length > 0 && (
        <div className="mb-4">
          <Notice title="Better done together">
            <ul>
              {together.map(({ title, bikes, outside }) => (
                <li key={title}>
                  {title}: {bikes.map(bikeWords).join(' and ')} share{' '}
                  {outside ? 'a set-up and a way to whoever does the outside part' : 'a set-up'}.
                </li>
              ))}
            </ul>
          </Notice>
        </div>
      )}
      {byBike.length === 0 && <p>Every part of every certain job is asked for, on its way or in the box.</p>}
      {byBike.map((mine) => (
        <section
          key={mine[0]!.bike.id}
          className="border-b border-rule py-3 first:pt-0 last:border-0 last:pb-0"
        >
          <h3>
            <BikeLink bike={mine[0]!.bike} />
          </h3>
          <ul className="flex flex-col">
            {mine.map((need) => (
              <li key={`${need.job} ${need.part}`}>
                <Need need={need} money={money} />
              </li>
            ))}
          </ul>
        </section>
      ))}
    </Sheet>
  )
}

function Need({ need, money }: { need: NeedShown; money: PartsMoney | null }) {
  const { bike, job, title, part, qty, state, notUsed } = need
  const words = (
    <span className="flex flex-wrap items-center gap-x-3 gap-y-1">
      <span className="font-semibold">{pieces(part, qty)}</span>
      <span className="text-soft">{title}</span>
      {(state === 'wrong' || state === 'never') && <PartMark state={state} />}
    </span>
  )
  if (!money) return <div className="py-1.5">{words}</div>
  return (
    <Disclosure summary={words}>
      <AskForm
        need={{ bike: bike.id, job, part, qty, notUsed, label: `${part}, ${title}, ${bikeWords(bike)}` }}
        suppliers={money.suppliers}
        currency={money.currency}
      />
    </Disclosure>
  )
}

function Suppliers({ money }: { money: PartsMoney }) {
  const { suppliers, currency } = money
  return (
    <div className="no-print">
      <Sheet id="suppliers" title="Suppliers">
        {suppliers.length > 0 && (
          <ul className="flex flex-wrap gap-x-6">
            {suppliers.map(({ id, name }) => (
              <li key={id}>
                <Link href={`/parts/${id}`} className="tap">
                  {name}
                </Link>
              </li>
            ))}
          </ul>
        )}
        <Disclosure
          summary={<span className="font-semibold">Write a supplier down</span>}
          open={suppliers.length === 0}
        >
          <SupplierForm supplier={null} currency={currency} />
        </Disclosure>
      </Sheet>
    </div>
  )
}

/** What is still to be asked for or ordered, for who does that; what is on its way for everybody else. */
function mainFigure(parts: Parts, money: PartsMoney | null): Omit<FigureProps, 'size'> {
  const { needs, listed, onTheWay } = parts
  if (money) {
    const missing = [...needs, ...listed]
    const bikes = new Set(missing.map(({ bike }) => bike.id)).size
    return {
      label: 'To order',
      value: countOf(missing.length, 'part'),
      note: missing.length > 0 ? `for ${countOf(bikes, 'bike')}` : 'nothing is lacking',
    }
  }
  const late = onTheWay.filter(({ overdue }) => overdue).length
  return {
    label: 'On its way',
    value: countOf(onTheWay.length, 'part'),
    note: late > 0 ? `${late} overdue` : undefined,
  }
}

function nextStep(parts: Parts, money: PartsMoney | null): { href: string; label: string } | undefined {
  const { needs, onTheWay, bikes } = parts
  if (!money) return onTheWay.length > 0 ? { href: '#on-the-way', label: 'Say what came' } : undefined
  const full = money.lists.find(({ lackingMinor, unpriced }) => lackingMinor === 0 && unpriced === 0)
  if (full) return { href: `/parts/${full.supplier.id}`, label: `Order of ${full.supplier.name}` }
  if (money.suppliers.length === 0 && bikes.length > 0)
    return { href: '#suppliers', label: 'Write a supplier down' }
  if (needs.length > 0) return { href: '#to-order', label: 'Ask for what is missing' }
  const [list] = money.lists
  if (list) return { href: `/parts/${list.supplier.id}`, label: `Look at the list for ${list.supplier.name}` }
  return onTheWay.length > 0 ? { href: '#on-the-way', label: 'See what is on its way' } : undefined
}
