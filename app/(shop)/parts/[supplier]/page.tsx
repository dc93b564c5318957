import type { Metadata } from 'next'
import Link from 'next/link'
import { uuidv7 } from 'uuidv7'
import { whyNotUsed } from '../../../../lib/core/work/never-used'
import { readParts } from '../../../../lib/shop/read-parts'
import {
  type OrderLine,
  type PartsMoney,
  readPartsMoney,
  readSupplierList,
  type SupplierList,
} from '../../../../lib/shop/read-parts-money'
import { found, openPage } from '../../../../lib/web/pages'
import { ActionForm } from '../../../_ui/action-form'
import { Disclosure } from '../../../_ui/disclosure'
import { Field } from '../../../_ui/field'
import { countOf, formatDay, formatMoney, formatNumber } from '../../../_ui/formats'
import { HiddenField } from '../../../_ui/hidden-field'
import { MoneyField } from '../../../_ui/money-field'
import { EmptyState } from '../../../_ui/notes'
import { PageHead } from '../../../_ui/page-head'
import { PrintButton } from '../../../_ui/print-button'
import { Sheet } from '../../../_ui/sheet'
import { SubmitButton } from '../../../_ui/submit-button'
import { orderPartsAction } from '../actions'
import { ChangeAskedForm } from '../ask-form'
import { bikeWords } from '../bike-link'
import { SayOfLine } from '../coming'
import { neverSays, sourceWords } from '../parts-words'
import { SupplierForm } from '../supplier-form'

export const metadata: Metadata = { title: "A supplier's list" }

/** What is to be ordered of one supplier, as it is read to them or sent; what a bike earns is not on it. */
export default async function SupplierPage({ params }: { params: Promise<{ supplier: string }> }) {
  const context = await openPage('/parts/[supplier]')
  const { supplier: id } = await params
  const list = await found(readSupplierList(context, id))
  const [money, { listed, today }] = await Promise.all([readPartsMoney(context), readParts(context)])
  const { supplier, order, currency } = list
  return (
    <main id="main" className="page">
      <PageHead
        title={supplier.name}
        sub={supplier.contact || undefined}
        figure={{
          label: 'On the list',
          value: formatMoney(list.goodsMinor, currency),
          note: list.lackingMinor > 0 && `${formatMoney(list.lackingMinor, currency)} short of their least`,
        }}
        next={
          order.length > 0 ? { href: '#order', label: 'Order it' } : { href: '/parts', label: 'All parts' }
        }
      />
      {order.length === 0 ? (
        <EmptyState title="Nothing is on this list.">
          Parts come onto it from <Link href="/parts#to-order">what the bikes need</Link>.
        </EmptyState>
      ) : (
        <>
          <OrderSheet list={list} today={today} />
          <div className="no-print">
            <Sheet title="Set the list right">
              <ul className="flex flex-col">
                {order.map((line) => (
                  <li key={line.id} className="border-b border-rule last:border-0">
                    <Disclosure summary={<span>{`${line.part}, ${bikeWords(line.bike)}`}</span>}>
                      <SetRight line={line} money={money} supplier={supplier.id} />
                      {listed
                        .filter((one) => one.id === line.id)
                        .map((one) => (
                          <SayOfLine key={one.id} line={one} mayOrder />
                        ))}
                    </Disclosure>
                  </li>
                ))}
              </ul>
            </Sheet>
          </div>
          <OrderForm list={list} today={today} />
        </>
      )}
      <div className="no-print flex flex-col gap-6">
        {list.before.length > 0 && <Before list={list} />}
        <Sheet id="terms" title="Terms">
          <SupplierForm supplier={supplier} currency={currency} />
        </Sheet>
      </div>
    </main>
  )
}

function SetRight({
  line,
  money: { suppliers, currency },
  supplier,
}: {
  line: OrderLine
  money: PartsMoney
  supplier: string
}) {
  const asked = { ...line, supplier, notUsed: whyNotUsed(line.part) }
  return <ChangeAskedForm line={asked} suppliers={suppliers} currency={currency} />
}

function OrderSheet({ list, today }: { list: SupplierList; today: string }) {
  const { order, currency, shopName, supplier, goodsMinor, unpriced, lackingMinor } = list
  const money = (minor: number | null) => (minor === null ? 'ask' : formatMoney(minor, currency))
  const carriage = supplier.carriageMinor
  return (
    <Sheet
      title={`Order of ${shopName}`}
      sub={formatDay(today)}
      aside={
        <span className="no-print">
          <PrintButton>Print the list</PrintButton>
        </span>
      }
    >
      <div className="overflow-x-auto">
        <table className="ledger">
          <caption>{countOf(order.length, 'part')}, each with the number of the bike it is for</caption>
          <thead>
            <tr>
              <th scope="col">Part</th>
              <th scope="col">For</th>
              <th scope="col" className="num">
                How many
              </th>
              <th scope="col" className="num">
                Each
              </th>
              <th scope="col" className="num">
                In all
              </th>
            </tr>
          </thead>
          <tbody>
            {order.map((line) => (
              <tr key={line.id}>
                <th scope="row">
                  <strong>{line.part}</strong>
                  {line.number && <span className="block">Number {line.number}</span>}
                  <span className="block text-soft">
                    {sourceWords[line.source as keyof typeof sourceWords]}
                    {line.leadDays !== null && `, ${countOf(line.leadDays, 'day')}`}
                    {/* A guess of the shop's own: nothing for the supplier to read. */}
                    {line.neverChance !== null && (
                      <span className="no-print">, {neverSays(line.neverChance)}</span>
                    )}
                  </span>
                </th>
                <td>{bikeWords(line.bike)}</td>
                <td className="num">{formatNumber(line.qty)}</td>
                <td className="num">{money(line.unitMinor)}</td>
                <td className="num">{money(line.sumMinor)}</td>
              </tr>
            ))}
          </tbody>
          <tfoot>
            <tr>
              <th scope="row" colSpan={4}>
                Goods{unpriced > 0 && `, ${countOf(unpriced, 'part')} not priced yet`}
              </th>
              <td className="num">{formatMoney(goodsMinor, currency)}</td>
            </tr>
            <tr>
              <th scope="row" colSpan={4}>
                With carriage{carriage === null && ', which nobody has asked'}
              </th>
              <td className="num">{formatMoney(goodsMinor + (carriage ?? 0), currency)}</td>
            </tr>
          </tfoot>
        </table>
      </div>
      {supplier.minimumMinor !== null && (
        <p className="mt-3">
          {lackingMinor > 0
            ? `They deliver for ${formatMoney(supplier.minimumMinor, currency)} of goods at the least: ${formatMoney(lackingMinor, currency)} is lacking.`
            : `They deliver for ${formatMoney(supplier.minimumMinor, currency)} of goods at the least, which this reaches.`}
        </p>
      )}
    </Sheet>
  )
}

function OrderForm({ list, today }: { list: SupplierList; today: string }) {
  const { order, supplier, currency } = list
  return (
    <div className="no-print">
      <Sheet
        id="order"
        title="It is ordered"
        sub="The carriage is shared out to the bikes by what their parts come to."
      >
        <ActionForm action={orderPartsAction} label={`Ordered of ${supplier.name}`}>
          <HiddenField name="id" value={uuidv7()} />
          <HiddenField name="supplier" value={supplier.id} />
          {order.map(({ id, version }) => (
            <HiddenField key={id} name="lines[]" value={`${id} ${version}`} />
          ))}
          <div className="grid gap-4 sm:grid-cols-3">
            <Field name="day" label="Ordered on" type="date" defaultValue={today} required />
            <MoneyField
              name="carriage"
              label="Carriage"
              currency={currency}
              defaultMinor={supplier.carriageMinor}
              required
            />
            <Field name="reference" label="What they know it by" maxLength={200} />
          </div>
          <div>
            <SubmitButton>{`Ordered: ${countOf(order.length, 'part')}`}</SubmitButton>
          </div>
        </ActionForm>
      </Sheet>
    </div>
  )
}

function Before({ list: { before } }: { list: SupplierList }) {
  return (
    <Sheet title="Ordered before">
      <ul>
        {before.map(({ id, day, reference, parts, onTheWay }) => (
          <li key={id} className="py-1">
            {formatDay(day)}: {countOf(parts, 'part')}
            {onTheWay > 0 ? `, ${onTheWay} still on the way` : ', nothing on the way any more'}
            {reference && `. ${reference}`}
          </li>
        ))}
      </ul>
    </Sheet>
  )
}
