import type { Job, Operation } from '../../../../lib/core/checks/catalogue'
import { CheckFields } from './check-fields'
import type { FormFacts } from './entry-form'
import { FaultFields, JobFields, OperationFields } from './work-fields'

/** The fields of an entry of any kind. */
export function EntryFields({ of }: { of: FormFacts }) {
  const entry = of.shown?.entry ?? null
  switch (of.kind) {
    case 'check':
      return <CheckFields of={of} />
    case 'fault':
      return <FaultFields of={of} />
    case 'job':
      return <JobFields of={of} job={entry as Job | null} />
    case 'operation':
      return <OperationFields of={of} operation={entry as Operation | null} />
  }
}
