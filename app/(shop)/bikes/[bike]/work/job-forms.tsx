'use client'

import { typedMoney } from '../../../../../lib/core/quantity/typed-money'
import type { WorkJob } from '../../../../../lib/shop/read-work'
import { PartFields, ThreeFields } from '../../../../_ui/figure-fields'
import { HiddenField } from '../../../../_ui/hidden-field'
import { LateDisclosure } from '../../../../_ui/late-disclosure'
import { DecideForm, type Deciding } from './decide-form'
import { usualAsSent } from './decision-of-form'

type JobToDecide = Pick<WorkJob, 'key' | 'title' | 'hours' | 'parts' | 'outsideWork' | 'own' | 'usual'>

/** What a person may set against one job. */
export function JobForms({ job, deciding }: { job: JobToDecide; deciding: Deciding }) {
  const { key, title, own } = job
  return (
    <div className="no-print">
      <LateDisclosure summary={<span className="font-semibold">Change hours or parts on this bike</span>}>
        {() => <ChangeForm job={job} deciding={deciding} />}
      </LateDisclosure>
      {!own && (
        <LateDisclosure summary={<span className="font-semibold">Drop this job</span>}>
          {() => (
            <DecideForm
              deciding={deciding}
              kind="drop-job"
              about={key}
              label={`Drop ${title}`}
              send="Drop it"
            />
          )}
        </LateDisclosure>
      )}
    </div>
  )
}

function ChangeForm({ job, deciding }: { job: JobToDecide; deciding: Deciding }) {
  const { key, title, hours, parts, outsideWork, usual } = job
  const { currency } = deciding
  return (
    <DecideForm
      deciding={deciding}
      kind="change-job"
      about={key}
      label={`Change ${title} on this bike`}
      send="Change it on this bike"
    >
      {usualAsSent(usual).map(({ name, value }) => (
        <HiddenField key={name} name={name} value={value} />
      ))}
      <ThreeFields name="decision.hours" legend="Hours of its own" value={hours} write={String} unit="h" />
      <PartFields name="decision.parts" parts={parts} currency={currency} />
      <ThreeFields
        name="decision.outsideWork"
        legend="Paid to somebody else"
        value={outsideWork}
        write={typedMoney}
        unit={currency}
      />
    </DecideForm>
  )
}
