import type { Metadata } from 'next'
import { uuidv7 } from 'uuidv7'
import {
  dueSoonDays,
  type InstrumentListed,
  type KindChoice,
  readInstrumentList,
} from '../../../../lib/shop/instruments'
import { openPage } from '../../../../lib/web/pages'
import { ActionForm } from '../../../_ui/action-form'
import { Disclosure } from '../../../_ui/disclosure'
import { Field } from '../../../_ui/field'
import { countOf, formatDay, formatInstant, formatUnit, formatValue } from '../../../_ui/formats'
import { HiddenField, VersionField } from '../../../_ui/hidden-field'
import { EmptyState } from '../../../_ui/notes'
import { PageHead } from '../../../_ui/page-head'
import { Sheet } from '../../../_ui/sheet'
import { SubNav } from '../../../_ui/sub-nav'
import { SubmitButton } from '../../../_ui/submit-button'
import { settingsEntries } from '../entries'
import { addInstrumentAction, changeInstrumentAction, withdrawInstrumentAction } from './actions'
import { InstrumentFields } from './instrument-fields'

export const metadata: Metadata = { title: 'Instruments' }

/** The shop's own tools for measuring: what they may be off by, and until when that is certified. */
export default async function Instruments() {
  const context = await openPage('/settings/instruments')
  const { inUse, outOfUse, kinds, zone } = await readInstrumentList(context)
  const overdue = inUse.filter(({ calibration }) => calibration === 'overdue')
  const soon = inUse.filter(({ calibration }) => calibration === 'due soon')
  const first = overdue[0] ?? soon[0]
  return (
    <main id="main" className="page">
      <PageHead
        title="Instruments"
        sub="What a reading may be off by decides what is too close to call. A kind that no tool is listed for counts with its starting figures."
        figure={{
          label: 'Calibration overdue',
          value: overdue.length,
          note: `of ${countOf(inUse.length, 'tool')}${soon.length > 0 ? `; ${soon.length} due within ${dueSoonDays} days` : ''}`,
        }}
        next={
          first
            ? { href: `#${first.id}`, label: `See to: ${first.name}` }
            : { href: '#add', label: 'Add a tool' }
        }
      />
      <SubNav label="Settings" entries={settingsEntries} current="/settings/instruments" />
      {first && (
        <Sheet title="Calibration" sub="Readings taken with an overdue tool are kept and marked.">
          <ul className="flex flex-col">
            {[...overdue, ...soon].map((tool) => (
              <li key={tool.id} className="flex flex-wrap gap-x-4 border-b border-rule py-2 last:border-0">
                <strong>{tool.name}</strong>
                <span>{calibrationWords(tool)}</span>
              </li>
            ))}
          </ul>
        </Sheet>
      )}
      <div className="grid items-start gap-6 lg:grid-cols-2">
        <div className="flex flex-col gap-6">
          {inUse.length === 0 && (
            <Sheet title="Tools in use">
              <EmptyState title="None listed yet">
                Every reading counts with the starting figures of its kind of tool until yours are here.
              </EmptyState>
            </Sheet>
          )}
          {kinds
            .filter(({ key }) => inUse.some(({ kind }) => kind === key))
            .map((kind) => (
              <Sheet key={kind.key} title={kind.name}>
                <ul className="flex flex-col">
                  {inUse
                    .filter((tool) => tool.kind === kind.key)
                    .map((tool) => (
                      <ToolEntry key={tool.id} tool={tool} kinds={kinds} zone={zone} />
                    ))}
                </ul>
              </Sheet>
            ))}
          <StrayTools
            tools={inUse.filter(({ kind }) => !kinds.some(({ key }) => key === kind))}
            kinds={kinds}
            zone={zone}
          />
        </div>
        <div className="flex flex-col gap-6">
          <Sheet title="Add a tool" id="add">
            <ActionForm
              action={addInstrumentAction}
              label="Add a tool"
              done="Added. It can be chosen for readings now."
            >
              <HiddenField name="id" value={uuidv7()} />
              <InstrumentFields kinds={kinds} />
              <div>
                <SubmitButton>Add this tool</SubmitButton>
              </div>
            </ActionForm>
          </Sheet>
          <NotListed kinds={kinds.filter(({ key }) => !inUse.some(({ kind }) => kind === key))} />
          {outOfUse.length > 0 && <OutOfUse tools={outOfUse} zone={zone} />}
        </div>
      </div>
    </main>
  )
}

function ToolEntry({
  tool,
  kinds,
  zone,
}: {
  tool: InstrumentListed
  kinds: readonly KindChoice[]
  zone: string
}) {
  const { id, name, resolution, unit, standardUncertainty, combined, version } = tool
  return (
    <li id={id} className="scroll-mt-4 border-b border-rule last:border-0">
      <Disclosure
        summary={
          <>
            <span className="font-semibold">{name}</span>{' '}
            <span className="text-soft">
              uncertainty {figure(combined)} {formatUnit(unit)} · {calibrationWords(tool)}
            </span>
          </>
        }
      >
        <div className="flex flex-col gap-6">
          <p>
            One reading may be off by a standard uncertainty of{' '}
            <strong>
              {figure(combined)} {formatUnit(unit)}
            </strong>
            : the rounding to its step of {formatValue(resolution, unit, 6)} (half a step ÷ √3) and its own{' '}
            {formatValue(standardUncertainty, unit, 6)}, added as squares.
          </p>
          <ActionForm
            action={changeInstrumentAction}
            label={`Figures of ${name}`}
            done="Saved. Readings taken before keep the figures they were taken with."
          >
            <HiddenField name="instrument" value={id} />
            <VersionField version={version} />
            <InstrumentFields kinds={kinds} tool={tool} />
            <div>
              <SubmitButton look="quiet">Save its figures</SubmitButton>
            </div>
          </ActionForm>
          <ActionForm action={withdrawInstrumentAction} label={`Take ${name} out of use`}>
            <HiddenField name="instrument" value={id} />
            <VersionField version={version} />
            <Field
              name="reason"
              label="Why it goes out of use"
              hint="Dropped, lost, sent away."
              maxLength={500}
            />
            <div>
              <SubmitButton look="quiet">Take it out of use</SubmitButton>
            </div>
          </ActionForm>
          <History tool={tool} zone={zone} />
        </div>
      </Disclosure>
    </li>
  )
}

/** Of a kind that no check names any more. */
function StrayTools({
  tools,
  ...rest
}: {
  tools: readonly InstrumentListed[]
  kinds: readonly KindChoice[]
  zone: string
}) {
  if (tools.length === 0) return null
  return (
    <Sheet title="Of a kind that no check asks for">
      <ul className="flex flex-col">
        {tools.map((tool) => (
          <ToolEntry key={tool.id} tool={tool} {...rest} />
        ))}
      </ul>
    </Sheet>
  )
}

function NotListed({ kinds }: { kinds: readonly KindChoice[] }) {
  if (kinds.length === 0) return null
  return (
    <Sheet title="No tool listed" sub="These kinds count with starting figures.">
      <ul className="flex flex-col">
        {kinds.map(({ key, name, resolution, standardUncertainty, units }) => (
          <li key={key} className="border-b border-rule py-2 last:border-0">
            <strong>{name}</strong>{' '}
            <span className="text-soft">
              resolution {formatValue(resolution, units[0] ?? '', 6)}, standard uncertainty{' '}
              {formatValue(standardUncertainty, units[0] ?? '', 6)}
            </span>
          </li>
        ))}
      </ul>
    </Sheet>
  )
}

function OutOfUse({ tools, zone }: { tools: readonly InstrumentListed[]; zone: string }) {
  return (
    <Sheet title="Out of use" sub="What was read with them stays as it was taken.">
      <ul className="flex flex-col">
        {tools.map((tool) => (
          <li key={tool.id} className="border-b border-rule py-2 last:border-0">
            <p className="font-semibold">{tool.name}</p>
            <History tool={tool} zone={zone} />
          </li>
        ))}
      </ul>
    </Sheet>
  )
}

function History({ tool, zone }: { tool: InstrumentListed; zone: string }) {
  return (
    <ul className="text-soft">
      {tool.history.map(({ did, who, at, says }) => (
        <li key={`${did} ${at.getTime()}`}>
          <span className="inline-block first-letter:uppercase">{did}</span> by {who},{' '}
          {formatInstant(at, zone)}
          {says && `: ${says}`}
        </li>
      ))}
    </ul>
  )
}

/** At most two digits that say something: no uncertainty is known better. */
function figure(value: number): string {
  return String(Number(value.toPrecision(2)))
}

function calibrationWords({ calibration, calibrationDue, daysLeft }: InstrumentListed): string {
  if (calibrationDue === null || daysLeft === null) return 'no calibration date kept'
  const day = formatDay(calibrationDue)
  if (calibration === 'overdue') return `calibration overdue since ${day} (${countOf(-daysLeft, 'day')})`
  if (calibration === 'due soon')
    return `calibration due ${day}, ${daysLeft === 0 ? 'today' : `in ${countOf(daysLeft, 'day')}`}`
  return `calibrated until ${day}`
}
