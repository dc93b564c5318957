import type { Way, WayOut, WayShut, WaysOut } from '../../../../../lib/core/deal/ways-out'
import type { Desk } from '../../../../../lib/shop/read-deal'
import { ActionForm } from '../../../../_ui/action-form'
import { CheckField } from '../../../../_ui/choice-fields'
import { Disclosure } from '../../../../_ui/disclosure'
import { Field } from '../../../../_ui/field'
import { formatEstimate } from '../../../../_ui/formats'
import { HiddenField, VersionField } from '../../../../_ui/hidden-field'
import { MoneyField } from '../../../../_ui/money-field'
import { Caution } from '../../../../_ui/notes'
import { acrossOf } from '../../../../_ui/shapes'
import { Sheet } from '../../../../_ui/sheet'
import { SubmitButton } from '../../../../_ui/submit-button'
import { noteOtherWaysAction } from './actions'

const wayWords: Record<WayOut, string> = {
  retail: 'Put right and sell',
  trade: 'On to the trade as it stands',
  break: 'Break for parts',
  'pass-up': 'Pass it up',
}

const shutWords: Record<WayShut, string> = {
  'fault-stays': 'Shut: a fault stays that no job here cures.',
  'no-sale-price': 'Not known: no sale price yet.',
  'no-trade-price': 'Not known: nobody noted what the trade would pay.',
  'no-parts-price': 'Not known: nobody noted what its parts would bring.',
  'waste-permit': 'Shut: who takes a bike apart needs a permit for the waste.',
  'registry-notice': 'Shut: the registry must be told that the bike is taken apart.',
  bought: 'It is bought.',
}

/** Every way on from here on one scale, by what is still to be gained. */
export function WaysOutSheet({
  waysOut,
  otherWays,
  bike,
  currency,
}: {
  waysOut: WaysOut
  otherWays: Desk['otherWays']
  bike: string
  currency: string
}) {
  const bought = waysOut.ways.find(({ way }) => way === 'pass-up')?.shut === 'bought'
  const shown = waysOut.ways.filter(({ way }) => way !== 'pass-up' || !bought)
  return (
    <Sheet
      title="Ways out"
      sub={
        bought
          ? 'What each way still brings from here on. What is paid and spent is not in the question.'
          : 'What each way brings, the price still to be paid.'
      }
    >
      <p className="mb-4 max-w-prose text-lg">{saysBest(waysOut, currency)}</p>
      <WayTable ways={shown} best={waysOut.best} currency={currency} />
      <div className="no-print mt-4">
        <Disclosure
          summary={<span className="font-semibold">What it would bring without being put right</span>}
        >
          <OtherWaysForm otherWays={otherWays} bike={bike} currency={currency} />
        </Disclosure>
      </div>
    </Sheet>
  )
}

function saysBest({ best, ways, gainFromGoingOn }: WaysOut, currency: string): string {
  const of = ways.find(({ way }) => way === best)
  if (!of) return 'No way can be reckoned yet.'
  const first = `${wayWords[of.way]}: it brings most, ${formatEstimate(of.toBeGained!, currency)}.`
  if (gainFromGoingOn === null) return first
  const money = formatEstimate(Math.abs(gainFromGoingOn), currency)
  return gainFromGoingOn >= 0
    ? `${first} Going on gains ${money} over the best way out as it stands.`
    : `${first} Going on would lose ${money} against the best way out as it stands.`
}

function WayTable({ ways, best, currency }: { ways: readonly Way[]; best: WayOut | null; currency: string }) {
  const known = ways.flatMap(({ low, high, toBeGained }) =>
    toBeGained === null ? [] : [low!, high!, toBeGained],
  )
  const at = acrossOf([...known, 0], 0.04)
  return (
    <table className="ledger">
      <caption className="sr-only">What is still to be gained by each way</caption>
      <tbody>
        {ways.map((way) => (
          <tr key={way.way}>
            <th scope="row" className="w-2/5 sm:w-1/3" colSpan={way.toBeGained === null ? 3 : 1}>
              <span className={way.way === best ? 'font-semibold' : ''}>{wayWords[way.way]}</span>
              {way.shut && <span className="block text-sm font-normal text-soft">{shutWords[way.shut]}</span>}
            </th>
            {way.toBeGained !== null && (
              <td>
                <svg aria-hidden="true" width="100%" height="26" className="text-accent">
                  <line
                    x1={`${at(0)}%`}
                    x2={`${at(0)}%`}
                    y1="0"
                    y2="26"
                    stroke="currentColor"
                    strokeDasharray="4 3"
                  />
                  <rect
                    x={`${at(way.low!)}%`}
                    width={`${Math.max(0.4, at(way.high!) - at(way.low!))}%`}
                    y="9"
                    height="8"
                    fill="currentColor"
                    fillOpacity={way.way === best ? 1 : 0.5}
                  />
                  <line
                    x1={`${at(way.toBeGained)}%`}
                    x2={`${at(way.toBeGained)}%`}
                    y1="3"
                    y2="23"
                    className="text-ink"
                    stroke="currentColor"
                    strokeWidth="3"
                  />
                </svg>
              </td>
            )}
            {way.toBeGained !== null && (
              <td className="num">
                {formatEstimate(way.toBeGained, currency)}
                {way.high! > way.low! && (
                  <span className="block text-sm text-soft">
                    {formatEstimate(way.low!, currency)} to {formatEstimate(way.high!, currency)}
                  </span>
                )}
              </td>
            )}
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function OtherWaysForm({
  otherWays: { version, trade, parts, stripHours, breakCostMinor, wastePermit, registryNotice },
  bike,
  currency,
}: {
  otherWays: Desk['otherWays']
  bike: string
  currency: string
}) {
  return (
    <ActionForm action={noteOtherWaysAction} label="Other ways out" done="Noted.">
      <HiddenField name="bike" value={bike} />
      <VersionField version={version} />
      <Three name="trade" legend="On to the trade as it stands" value={trade} currency={currency} />
      <Three name="parts" legend="All its parts together" value={parts?.value ?? null} currency={currency} />
      <div className="grid gap-3 sm:grid-cols-2">
        <Field
          name="stripHours"
          label="Hours to strip it"
          inputMode="decimal"
          unit="h"
          defaultValue={stripHours === null ? '' : String(stripHours)}
        />
        <MoneyField
          name="breakCost"
          label="Costs of breaking it"
          hint="Waste, fluids, telling the registry."
          currency={currency}
          defaultMinor={breakCostMinor}
        />
      </div>
      <Caution title="Waste and the registry">
        Oil, coolant, brake fluid, batteries and tyres are waste that must be handed in. Taking vehicles apart
        as a trade needs a permit in many places, and the registry must be told. The law where you are comes
        first.
      </Caution>
      <CheckField
        name="wastePermit"
        label="The shop may take bikes apart: it has the permit, or needs none here"
        defaultChecked={wastePermit}
      />
      <CheckField
        name="registryNotice"
        label="The registry is told, or will be before it is taken apart"
        defaultChecked={registryNotice}
      />
      <div>
        <SubmitButton look="quiet">Note it</SubmitButton>
      </div>
    </ActionForm>
  )
}

function Three({
  name,
  legend,
  value,
  currency,
}: {
  name: string
  legend: string
  value: { low: number; likely: number; high: number } | null
  currency: string
}) {
  return (
    <fieldset className="flex flex-col gap-1">
      <legend className="mb-1 font-semibold">{legend}</legend>
      <div className="grid gap-3 sm:grid-cols-3">
        {(['low', 'likely', 'high'] as const).map((point) => (
          <MoneyField
            key={point}
            name={`${name}.${point}`}
            label={point}
            currency={currency}
            defaultMinor={value?.[point] ?? null}
          />
        ))}
      </div>
    </fieldset>
  )
}
