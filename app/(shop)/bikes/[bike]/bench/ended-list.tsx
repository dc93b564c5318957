import Link from 'next/link'
import { openStateKinds } from '../../../../../lib/core/checks/open-states'
import type { RunEnded } from '../../../../../lib/shop/read-bench'
import { ActionForm } from '../../../../_ui/action-form'
import { Disclosure } from '../../../../_ui/disclosure'
import { Field } from '../../../../_ui/field'
import { formatInstant } from '../../../../_ui/formats'
import { HiddenField, VersionField } from '../../../../_ui/hidden-field'
import { SubmitButton } from '../../../../_ui/submit-button'
import { correctMinutesAction } from './actions'
import { minutesWords } from './bench-words'
import { PartForm, PartsUsed } from './parts-used'

/** Work that is ended, and what its recheck says. */
export function EndedList({
  runs,
  bike,
  zone,
}: {
  runs: readonly RunEnded[]
  bike: { id: string; viewingNo: number }
  zone: string
}) {
  return (
    <ul className="flex flex-col">
      {runs.map((run) => (
        <li key={run.id} className="border-b border-rule py-3 first:pt-0 last:border-0 last:pb-0">
          <div className="flex flex-wrap items-baseline justify-between gap-x-6">
            <h3>{run.title}</h3>
            <p>
              {minutesWords(run.minutes)}, {run.who}, {formatInstant(run.at, zone)}
            </p>
          </div>
          <Outcome run={run} viewingNo={bike.viewingNo} />
          {run.open.length > 0 && (
            <p className="font-semibold">
              Not put back: {run.open.map((kind) => openStateKinds[kind].title).join(', ')}.
            </p>
          )}
          {run.note && <p className="text-soft">{run.note}</p>}
          <PartsUsed run={run} />
          <div className="no-print">
            <PartForm run={run} bike={bike.id} />
            <Disclosure summary={<span className="text-soft">Set the minutes right</span>}>
              <ActionForm action={correctMinutesAction} label={`Minutes of ${run.title}`}>
                <HiddenField name="run" value={run.id} />
                <VersionField version={run.version} />
                <Field
                  name="minutes"
                  label="Minutes it took in all"
                  inputMode="numeric"
                  unit="min"
                  required
                />
                <Field name="note" label="Why" required maxLength={500} />
                <div>
                  <SubmitButton look="quiet">Set the minutes</SubmitButton>
                </div>
              </ActionForm>
            </Disclosure>
          </div>
        </li>
      ))}
    </ul>
  )
}

function Outcome({ run: { outcome }, viewingNo }: { run: RunEnded; viewingNo: number }) {
  switch (outcome.is) {
    case 'waits':
      return outcome.rechecks.length > 0 ? (
        <p className="flex flex-wrap items-center gap-x-3">
          <span className="font-semibold">Done, waits for its recheck:</span>
          {outcome.rechecks.map(({ check, title }) => (
            <Link key={check} href={`/bikes/${viewingNo}/checks?check=${check}`} className="tap">
              {title}
            </Link>
          ))}
        </p>
      ) : (
        <p className="font-semibold">
          Done. No check proves it on this kind of bike: a dealer or manager drops the fault, with a reason.
        </p>
      )
    case 'still-there':
      return <p className="font-semibold">The recheck still finds: {outcome.faults.join(', ')}.</p>
    case 'proven':
      return <p>Done, and proven by its recheck.</p>
    case 'done':
      return <p>Done.</p>
    case 'given-up':
      return <p className="font-semibold">Not done after all.</p>
    case 'stopped':
      return <p className="font-semibold">Stopped by the manager’s answer, not done.</p>
  }
}
