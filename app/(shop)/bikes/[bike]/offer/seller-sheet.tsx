import type { ReactNode } from 'react'
import type { OfferSheet } from '../../../../../lib/shop/offer-sheet'
import { bikeName, numbersOf } from '../../../../_ui/bike-name'
import { distanceWords } from '../../../../_ui/distance-words'
import { countOf, formatDay, formatMoney } from '../../../../_ui/formats'
import { roundWords } from '../checks/round-words'
import { callWords } from './offer-words'

/** What is handed to the seller, on paper or on a phone held out: drawn from what was frozen with the offer alone. */
export function SellerSheet({ sheet }: { sheet: OfferSheet }) {
  const { bike, currency, faults, notChecked } = sheet
  const numbers = [numbersOf(bike), bike.frameNumber && `frame ${bike.frameNumber}`].filter(Boolean)
  return (
    <article aria-label="The seller's sheet" className="sheet flex flex-col gap-5 print:gap-3">
      <header className="flex flex-col gap-1 border-b-2 border-ink pb-3">
        <p>
          {sheet.shop}, {formatDay(sheet.day)}
        </p>
        <h2>Offer for {bikeName(bike)}</h2>
        <p className="text-soft">{numbers.join(', ')}</p>
        <p className="text-soft">Distance on the clock: {distanceWords(sheet.distance)}.</p>
      </header>
      <dl className="grid gap-x-8 gap-y-3 sm:grid-cols-2 print:grid-cols-2">
        <div>
          <dt className="text-soft">We offer</dt>
          <dd className="total inline-block text-4xl font-semibold">
            {formatMoney(sheet.offerMinor, currency)}
          </dd>
        </div>
        <div>
          <dt className="text-soft">Valid until the end of</dt>
          <dd className="text-xl font-semibold">{formatDay(sheet.validUntil)}</dd>
        </div>
        {sheet.subjectTo && (
          <div className="col-span-full">
            <dt className="text-soft">Subject to this being so</dt>
            <dd className="whitespace-pre-line">{sheet.subjectTo}</dd>
          </div>
        )}
      </dl>
      <Part title="Found on the bike">
        {faults.length === 0 ? (
          <p>Nothing wrong was found in what was checked.</p>
        ) : (
          <FaultTable faults={faults} putRightMinor={sheet.putRightMinor} currency={currency} />
        )}
      </Part>
      <Part title="Not checked">
        {notChecked.length === 0 ? (
          <p>Every check that applies to this bike has been made.</p>
        ) : (
          <>
            <p>These have no verdict: nothing is said about them, good or bad.</p>
            <dl className="mt-1 flex flex-col gap-1 text-sm">
              {notChecked.map(({ round, applicable, titles }) => (
                <div key={round}>
                  <dt className="inline font-semibold">
                    {roundWords[round].name}, {roundWords[round].when}:
                  </dt>{' '}
                  <dd className="inline">
                    {titles.length === applicable
                      ? `none of its ${countOf(applicable, 'check')}`
                      : `${titles.join('; ')}`}
                    .
                  </dd>
                </div>
              ))}
            </dl>
          </>
        )}
      </Part>
    </article>
  )
}

function Part({ title, children }: { title: string; children: ReactNode }) {
  return (
    <section>
      <h3 className="mb-1 border-b border-rule pb-1">{title}</h3>
      {children}
    </section>
  )
}

function FaultTable({
  faults,
  putRightMinor,
  currency,
}: Pick<OfferSheet, 'faults' | 'putRightMinor' | 'currency'>) {
  return (
    <table className="ledger">
      <thead>
        <tr>
          <th scope="col">Fault</th>
          <th scope="col" className="num">
            To put right, about
          </th>
        </tr>
      </thead>
      <tbody>
        {faults.map(({ title, call, putRightMinor: cost }) => (
          <tr key={title}>
            <th scope="row">
              {title}
              <span className="block text-sm text-soft">{callWords[call]}</span>
            </th>
            <td className="num">{costWords(cost, currency)}</td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <th scope="row">All of it, about</th>
          <td className="num">{formatMoney(putRightMinor, currency)}</td>
        </tr>
      </tfoot>
    </table>
  )
}

function costWords(minor: number | null, currency: string): string {
  if (minor === null) return 'not counted'
  return minor === 0 ? `under ${formatMoney(1000, currency)}` : formatMoney(minor, currency)
}
