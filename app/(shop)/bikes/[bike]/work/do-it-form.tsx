'use client'

import { LateDisclosure } from '../../../../_ui/late-disclosure'
import { DecideForm, type Deciding } from './decide-form'

/** Takes the job of a fault that was left into the estimate. */
export function DoItForm({ job, title, deciding }: { job: string; title: string; deciding: Deciding }) {
  return (
    <div className="no-print">
      <LateDisclosure summary={<span className="font-semibold">Do it: {title}</span>}>
        {() => (
          <DecideForm
            deciding={deciding}
            kind="add-job"
            about={job}
            label={`Do it: ${title}`}
            send="Add this job"
          />
        )}
      </LateDisclosure>
    </div>
  )
}
