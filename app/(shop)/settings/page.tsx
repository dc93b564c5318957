import type { Metadata } from 'next'
import { readSettings } from '../../../lib/shop/read-settings'
import { openPage } from '../../../lib/web/pages'
import { RadioField } from '../../_ui/choice-fields'
import { Field } from '../../_ui/field'
import { countOf, formatInstant } from '../../_ui/formats'
import { PageHead } from '../../_ui/page-head'
import { SubNav } from '../../_ui/sub-nav'
import { Word } from '../../_ui/word'
import { settingsEntries } from './entries'
import { FigureForm } from './figure-form'
import { ShopForm } from './shop-form'

export const metadata: Metadata = { title: 'Figures' }

/** What the shop calculates with. Each group says whether anybody here has looked at it yet. */
const monthNames = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
]

export default async function Settings() {
  const { store } = await openPage('/settings')
  const { shop, figures, typed, resting, last } = await readSettings(store.db)
  const { currency, version } = shop
  const rests = (...keys: string[]) => keys.some((key) => resting.includes(key))

  /** A field of the figures, by its name in the form. */
  const field = (name: string, label: string, more: { unit: string; hint?: string }) => (
    <Field
      name={`figures.${name}`}
      label={label}
      defaultValue={typed[`figures.${name}`]}
      inputMode="decimal"
      required
      {...more}
    />
  )

  return (
    <main id="main" className="page">
      <PageHead
        title="Figures of the shop"
        sub={`Number ${last.no}, saved ${formatInstant(last.at, shop.zone)}${last.by ? ` by ${last.by}` : ''}${last.reason ? `: ${last.reason}` : '.'}`}
        figure={{
          label: <Word name="starting value">on starting values</Word>,
          value: resting.length,
          note: `of ${countOf(Object.keys(figures).length - 1, 'figure')}`,
        }}
      />
      <SubNav label="Settings" entries={settingsEntries} current="/settings" />
      <div className="grid items-start gap-6 lg:grid-cols-2">
        <FigureForm
          title="Labour and tax"
          version={version}
          resting={rests('labourCostMinor', 'tax')}
          sub="What an hour costs the shop, not what it would charge."
        >
          {field('labourCost', 'Labour cost', { unit: `${currency} an hour` })}
          <RadioField
            name="figures.tax.scheme"
            label="Tax when a bike is sold"
            defaultValue={typed['figures.tax.scheme']}
            choices={[
              { value: 'margin', label: 'On the difference', hint: 'A margin scheme for used goods.' },
              { value: 'standard', label: 'Within the whole price' },
              { value: 'sales-tax-on-top', label: 'On top of the price' },
              { value: 'none', label: 'No tax' },
            ]}
            required
          />
          {field('tax.rate', 'Rate of that tax', { unit: '%' })}
        </FigureForm>

        <FigureForm
          title="What a deal must leave"
          version={version}
          resting={rests('targetMarginMinor', 'maxChanceOfLoss', 'reserveShareOfSale')}
          sub="These three decide the walk-away price together with the estimate."
        >
          {field('targetMargin', 'Target margin', {
            unit: currency,
            hint: 'What a bike should leave on average.',
          })}
          {field('maxChanceOfLoss', 'Highest chance of loss', {
            unit: '%',
            hint: 'At 10, one bike in ten bought at the walk-away price may lose money.',
          })}
          {field('reserveShareOfSale', 'Kept back for after the sale', { unit: '% of the sale price' })}
        </FigureForm>

        <FigureForm
          title="What every bike costs"
          version={version}
          resting={rests('standingCostsMinor', 'sellingCostsMinor', 'buyingCosts')}
        >
          {field('standingCosts', 'Standing costs', {
            unit: currency,
            hint: 'Registers, collection, certificate, valet, final check.',
          })}
          {field('sellingCosts', 'Selling costs', { unit: currency, hint: 'The advert and handing over.' })}
          {field('buyingCosts.fixed', 'Buying costs', {
            unit: currency,
            hint: 'Fees that every purchase has.',
          })}
          {field('buyingCosts.shareOfPrice', 'Buying costs that grow with the price', {
            unit: '% of the price paid',
          })}
        </FigureForm>

        <FigureForm
          title="A bike that stands"
          version={version}
          resting={rests('dayPrice', 'daysToSell')}
          sub="Its room, what it loses in price, the money tied up in it."
        >
          {field('dayPrice.perDay', 'A day of standing', { unit: `${currency} a day` })}
          {field('dayPrice.moneyPerYear', 'What money costs', { unit: '% a year' })}
          {field('daysToSell.low', 'Days to sell, when it goes well', { unit: 'days' })}
          {field('daysToSell.likely', 'Days to sell, most often', { unit: 'days' })}
          {field('daysToSell.high', 'Days to sell, when it drags on', { unit: 'days' })}
        </FigureForm>

        <FigureForm
          title="Stuck fasteners"
          version={version}
          resting={rests('fasteners')}
          sub="How often a bike’s bolts are like this, and how many times longer undoing them takes."
        >
          {figures.fasteners.map(({ name }) => (
            <fieldset key={name} className="grid gap-3 sm:grid-cols-2">
              <legend className="font-semibold first-letter:uppercase">{name}</legend>
              {field(`fasteners.${name}.chance`, 'How often', { unit: '%' })}
              {field(`fasteners.${name}.factor`, 'Times the hours', { unit: '×' })}
            </fieldset>
          ))}
        </FigureForm>

        <FigureForm
          title="How bikes were kept"
          version={version}
          resting={rests('care')}
          sub="Of bikes that come in. Hidden faults are likelier on a neglected one."
        >
          {field('care.kept', 'Well kept', { unit: '%' })}
          {field('care.average', 'Average', { unit: '%' })}
          {field('care.neglected', 'Neglected', { unit: '%' })}
        </FigureForm>

        <FigureForm title="Age of tyres" version={version} resting={rests('tyreAges')}>
          {field('tyreAges.saleLine', 'The shop sells tyres up to', { unit: 'years' })}
          {field('tyreAges.guidance', 'Guidance: replace from', { unit: 'years' })}
        </FigureForm>

        <FigureForm
          title="Talking about a price"
          version={version}
          resting={rests('bargaining')}
          sub="Shares of the walk-away price, the most that may be paid."
        >
          {field('bargaining.openShare', 'First figure said', { unit: '% of the walk-away price' })}
          {field('bargaining.aimShare', 'Figure hoped for', { unit: '% of the walk-away price' })}
          {field('bargaining.talkedOffShare', 'Of a fault found, talked off', {
            unit: '% of what it costs',
          })}
        </FigureForm>

        <FigureForm
          title="An hour of the bench"
          version={version}
          resting={rests('benchHourPriceMinor')}
          sub="What it could earn on other work. It takes the place of the labour cost where jobs are weighed against one another."
        >
          {field('benchHourPrice', 'A bench hour’s price', {
            unit: `${currency} an hour`,
            hint: '0 where the bench is idle.',
          })}
        </FigureForm>

        <FigureForm
          title="Faults nobody has looked for"
          version={version}
          resting={rests('hiddenFaults')}
          sub="How the starting chances change with the bike’s age, with a refusal, and with what this shop finds."
        >
          {field('hiddenFaults.refusedOdds', 'A look the seller refused: odds times', { unit: '×' })}
          {field('hiddenFaults.priorBikes', 'A starting chance weighs as much as', { unit: 'bikes' })}
          {(['slow', 'fast'] as const).map((pace) => (
            <fieldset key={pace} className="grid gap-3 sm:grid-cols-2">
              <legend className="font-semibold">
                {pace === 'slow' ? 'What ages slowly: odds times' : 'What ages fast: odds times'}
              </legend>
              {['under 10 years', '10 to 20 years', '20 to 30 years', 'over 30 years'].map((band, place) =>
                field(`hiddenFaults.ageOdds.${pace}.${place}`, `Bikes ${band}`, { unit: '×' }),
              )}
            </fieldset>
          ))}
        </FigureForm>

        <FigureForm
          title="Prices noted elsewhere"
          version={version}
          resting={rests('notedPrices')}
          sub="How they become the sale price: what is asked is marked down, what is unlike counts less."
        >
          {field('notedPrices.soldToAsked', 'Paid, of what was asked', { unit: '%' })}
          {field('notedPrices.longStandingPerMonth', 'Off for each month an advert has stood', { unit: '%' })}
          {field('notedPrices.halfLifeDays', 'A note counts half after', { unit: 'days' })}
          {field('notedPrices.yearScale', 'Years apart at which it counts 0.6', { unit: 'years' })}
          {field('notedPrices.distanceScaleKm', 'Distance apart at which it counts 0.6', { unit: 'km' })}
          {field('notedPrices.conditionStep', 'Counts for each step of condition apart', { unit: '%' })}
          {(
            [
              ['private', 'Private sellers'],
              ['trade', 'Other dealers'],
              ['auction', 'Auctions'],
            ] as const
          ).map(([market, name]) => (
            <fieldset key={market} className="grid gap-3 sm:grid-cols-2">
              <legend className="font-semibold">{name}</legend>
              {field(`notedPrices.markets.${market}.weight`, 'Counts', { unit: '×' })}
              {field(`notedPrices.markets.${market}.toRetail`, 'Price here, of theirs', { unit: '×' })}
            </fieldset>
          ))}
        </FigureForm>

        <FigureForm
          title="Season"
          version={version}
          resting={rests('season')}
          sub="The sale price by the month a bike is ready, as a share of the usual one."
        >
          <div className="grid gap-3 sm:grid-cols-2 lg:grid-cols-3">
            {monthNames.map((name, month) => field(`season.${month}`, name, { unit: '%' }))}
          </div>
        </FigureForm>

        <FigureForm title="The workshop" version={version} resting={rests('workshop')}>
          {field('workshop.benchHoursPerDay', 'Bench hours worked in a day', { unit: 'h' })}
          {field('workshop.daysBeforeStart', 'Days before work on a bike begins', { unit: 'days' })}
        </FigureForm>
        <FigureForm
          title="Hours learned"
          sub="How slowly jobs done here move the hours expected of the next ones."
          version={version}
          resting={rests('learnedHours')}
        >
          {field('learnedHours.priorJobs', 'The hours of the catalogue weigh as much as', { unit: 'jobs' })}
        </FigureForm>
        <ShopForm shop={shop} />
      </div>
    </main>
  )
}
