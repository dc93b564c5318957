'use client'

import type { ReactNode } from 'react'
import { typedMoney } from '../../../../../lib/core/quantity/typed-money'
import type { Work } from '../../../../../lib/shop/read-work'
import { type Choice, Field, SelectField } from '../../../../_ui/field'
import { PartFields, ThreeFields } from '../../../../_ui/figure-fields'
import { HiddenField } from '../../../../_ui/hidden-field'
import { LateDisclosure } from '../../../../_ui/late-disclosure'
import { MoneyField } from '../../../../_ui/money-field'
import { DecideForm, type Deciding } from './decide-form'
import { callsToChoose } from './fault-forms'

/** What the readings do not say: a fault or a job out of the list, or one of one's own. */
export function AddForms({
  addable,
  unseen,
  perhaps,
  deciding,
}: {
  addable: Work['addable']
  /** Faults nobody has seen, which somebody may know not to be there. */
  unseen: readonly Choice[]
  /** Jobs that only such faults ask for. */
  perhaps: readonly Choice[]
  deciding: Deciding
}) {
  const faults = asChoices(addable.faults)
  const jobs = asChoices(addable.jobs)
  return (
    <>
      <Part summary="Add a fault from the list">
        {() => (
          <DecideForm deciding={deciding} kind="add-fault" label="Add a fault" send="Add this fault">
            <SelectField name="decision.key" label="Fault" required empty="Choose one" choices={faults} />
          </DecideForm>
        )}
      </Part>
      <Part summary="Add a fault that is not in the list">
        {() => <OwnFault allJobs={asChoices(addable.allJobs)} deciding={deciding} />}
      </Part>
      <Part summary="Add a job from the list">
        {() => (
          <DecideForm deciding={deciding} kind="add-job" label="Add a job" send="Add this job">
            <SelectField name="decision.key" label="Job" required empty="Choose one" choices={jobs} />
          </DecideForm>
        )}
      </Part>
      <Part summary="Add a job that is not in the list">{() => <OwnJob deciding={deciding} />}</Part>
      {unseen.length > 0 && (
        <Part summary="Say that an unseen fault is not there">
          {() => (
            <DecideForm
              deciding={deciding}
              kind="drop-fault"
              label="Drop an unseen fault"
              send="It is not there: drop it"
            >
              <SelectField name="decision.key" label="Fault" required empty="Choose one" choices={unseen} />
            </DecideForm>
          )}
        </Part>
      )}
      {perhaps.length > 0 && (
        <Part summary="Drop a job that may be needed">
          {() => (
            <DecideForm deciding={deciding} kind="drop-job" label="Drop a job" send="Drop this job">
              <SelectField name="decision.key" label="Job" required empty="Choose one" choices={perhaps} />
            </DecideForm>
          )}
        </Part>
      )}
    </>
  )
}

function Part({ summary, children }: { summary: string; children: () => ReactNode }) {
  return (
    <LateDisclosure summary={<span className="font-semibold">{summary}</span>}>{children}</LateDisclosure>
  )
}

function OwnFault({ allJobs, deciding }: { allJobs: readonly Choice[]; deciding: Deciding }) {
  return (
    <DecideForm deciding={deciding} kind="add-fault" label="Add a fault of your own" send="Add this fault">
      <HiddenField name="decision.key" value={ownKey(deciding)} />
      <Field name="decision.own.title" label="What is wrong" required maxLength={200} />
      <SelectField
        name="decision.own.call"
        label="What it asks for"
        required
        defaultValue="must"
        choices={callsToChoose}
      />
      <SelectField name="decision.own.job" label="Cured by" empty="Not known yet" choices={allJobs} />
      <MoneyField
        name="decision.own.saleOffMinor"
        label="Takes off the sale price where it is left"
        currency={deciding.currency}
      />
      <Field
        name="decision.own.slowerDays"
        label="Days longer for sale where it is left"
        inputMode="decimal"
        hint="0 where it makes no difference."
      />
    </DecideForm>
  )
}

function OwnJob({ deciding }: { deciding: Deciding }) {
  const { currency } = deciding
  return (
    <DecideForm deciding={deciding} kind="add-job" label="Add a job of your own" send="Add this job">
      <HiddenField name="decision.key" value={ownKey(deciding)} />
      <Field name="decision.own.title" label="What is to be done" required maxLength={200} />
      <ThreeFields name="decision.own.hours" legend="Hours" value={null} write={String} unit="h" />
      <PartFields name="decision.own.parts" parts={[]} currency={currency} />
      <ThreeFields
        name="decision.own.outsideWork"
        legend="Paid to somebody else"
        value={0}
        write={typedMoney}
        unit={currency}
      />
    </DecideForm>
  )
}

/** What a person describes has no key in the list: it gets one of its own. */
function ownKey({ nextId }: Deciding): string {
  return `own-${nextId}`
}

function asChoices(of: readonly { key: string; title: string }[]): Choice[] {
  return of.map(({ key: value, title: label }) => ({ value, label }))
}
