'use client'

import { type Call, calls } from '../../../../../lib/core/checks/catalogue'
import type { FaultShown } from '../../../../../lib/shop/read-work'
import { type Choice, SelectField } from '../../../../_ui/field'
import { formatShare } from '../../../../_ui/formats'
import { LateDisclosure } from '../../../../_ui/late-disclosure'
import { DecideForm, type Deciding } from './decide-form'

const callChoices: Record<Call, string> = {
  stop: 'Stop: unsafe',
  must: 'Must: before it is sold',
  pays: 'Pays: if it earns more',
  leave: 'Leave: the buyer is told',
}

export const callsToChoose: readonly Choice[] = calls.map((value) => ({ value, label: callChoices[value] }))

type FaultToDecide = Pick<FaultShown, 'key' | 'title' | 'call' | 'own' | 'alternatives' | 'oneOf'>

/** What a person may set against one fault. */
export function FaultForms({ fault, deciding }: { fault: FaultToDecide; deciding: Deciding }) {
  const { key, title, call, own, alternatives, oneOf } = fault
  return (
    <div className="no-print">
      <LateDisclosure summary={<span className="font-semibold">Decide otherwise</span>}>
        {() => (
          <div className="flex flex-col gap-6 divide-y divide-rule *:pb-6 *:last:pb-0">
            <DecideForm
              deciding={deciding}
              kind="change-call"
              about={key}
              label={`Change the call of ${title}`}
              send="Change the call"
            >
              <SelectField
                name="decision.call"
                label="What it asks for"
                required
                defaultValue={call}
                choices={callsToChoose}
              />
            </DecideForm>
            {alternatives.length > 1 && (
              <DecideForm
                deciding={deciding}
                kind="choose-job"
                about={key}
                label={oneOf ? `Name the cause of ${title}` : `Choose the job for ${title}`}
                send={oneOf ? 'This is the cause' : 'Choose this job'}
              >
                <SelectField
                  name="decision.job"
                  label={oneOf ? 'Which job cures it' : 'Cured by'}
                  required
                  defaultValue={alternatives[0]?.key}
                  choices={alternatives.map(({ key: value, title: label, share }) => ({
                    value,
                    label: share === null ? label : `${label} (${formatShare(share)})`,
                  }))}
                />
              </DecideForm>
            )}
            {!own && (
              <DecideForm
                deciding={deciding}
                kind="drop-fault"
                about={key}
                label={`Drop ${title}`}
                send="It is not there: drop it"
              />
            )}
          </div>
        )}
      </LateDisclosure>
    </div>
  )
}
