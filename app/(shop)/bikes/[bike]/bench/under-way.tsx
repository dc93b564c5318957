import { uuidv7 } from 'uuidv7'
import { openStateKinds } from '../../../../../lib/core/checks/open-states'
import type { Bench, RunUnderWay } from '../../../../../lib/shop/read-bench'
import { ActionForm } from '../../../../_ui/action-form'
import { Disclosure } from '../../../../_ui/disclosure'
import { Field, TextArea } from '../../../../_ui/field'
import { formatHours, formatInstant } from '../../../../_ui/formats'
import { HiddenField, VersionField } from '../../../../_ui/hidden-field'
import { Caution, Notice } from '../../../../_ui/notes'
import { SubmitButton } from '../../../../_ui/submit-button'
import { finishJobAction, giveUpJobAction, goOnWithJobAction, pauseJobAction } from './actions'
import { AskForm } from './ask-form'
import { minutesWords, stopRule } from './bench-words'
import { PartForm, PartsUsed } from './parts-used'
import { Cautions, StepsAndParts } from './work-shown'

/** Work that is begun: who is at it, how long so far, and what can be done with it. */
export function UnderWay({ bench }: { bench: Bench }) {
  return (
    <ul className="flex flex-col">
      {bench.underWay.map((run, no) => (
        <li
          key={run.id}
          id={`run-${run.id}`}
          className="border-b border-rule py-4 first:pt-0 last:border-0 last:pb-0"
        >
          <Run run={run} above={bench.underWay.slice(0, no)} bench={bench} />
        </li>
      ))}
    </ul>
  )
}

function Run({ run, above, bench }: { run: RunUnderWay; above: readonly RunUnderWay[]; bench: Bench }) {
  const { title, minutes, budgetHours, overBudget, runsSince, atIt, mine, state } = run
  const rule = stopRule(run)
  const onBench = bench.stage === 'on the bench'
  return (
    <article className="flex flex-col gap-3">
      <div className="flex flex-wrap items-baseline justify-between gap-x-6">
        <h3 className="text-xl">{title}</h3>
        <p className="text-xl font-semibold">
          {minutesWords(minutes)}
          {budgetHours !== null && ` of ${formatHours(budgetHours)}`}
        </p>
      </div>
      <p>{state === 'paused' ? 'Paused. Nobody is at it.' : `At it: ${atIt.join(', ')}.`}</p>
      {overBudget ? (
        <Caution title="More than the card allows">{rule} The time on the card is used up.</Caution>
      ) : (
        rule && <Notice>{rule}</Notice>
      )}
      {runsSince && (
        <Notice>
          A clock runs since {formatInstant(runsSince, bench.zone)}. Set the minutes right when you finish.
        </Notice>
      )}
      <Cautions work={run} above={above} />
      <StepsAndParts work={run} />
      <PartsUsed run={run} />
      <div className="no-print flex flex-col gap-2">
        <div className="flex flex-wrap gap-3">
          {mine ? (
            <OneTap action={pauseJobAction} run={run} says="Pause" />
          ) : (
            onBench && (
              <OneTap
                action={goOnWithJobAction}
                run={run}
                says={state === 'paused' ? 'Go on' : 'Join in'}
                look="main"
              />
            )
          )}
          {!mine && state === 'started' && (
            <OneTap action={pauseJobAction} run={run} says="Stop the clock of everybody" everybody />
          )}
        </div>
        <PartForm run={run} bike={bench.id} />
        <Disclosure summary={<span className="font-semibold">It is done</span>}>
          <ActionForm action={finishJobAction} label={`Finish ${title}`}>
            <Saved run={run} />
            {run.open.length > 0 && (
              <Caution title="Still open">
                {run.open.map((kind) => openStateKinds[kind].title).join(', ')}. It stays locked until it is
                put back.
              </Caution>
            )}
            <Field
              name="minutes"
              label="Minutes it took in all"
              hint={`By the clock ${minutes}. Leave it empty if that is right.`}
              inputMode="numeric"
              unit="min"
            />
            <TextArea name="note" label="Worth knowing" rows={2} />
            <p>A job done closes no fault. Its recheck does.</p>
            <div>
              <SubmitButton>Finish it</SubmitButton>
            </div>
          </ActionForm>
        </Disclosure>
        {onBench && (
          <Disclosure summary={<span className="font-semibold">It is worse: ask the manager</span>}>
            <AskForm bike={bench} run={run} nextId={uuidv7()} undone={undoneOf(bench)} />
          </Disclosure>
        )}
        <Disclosure summary={<span className="font-semibold">It is not done after all</span>}>
          <ActionForm action={giveUpJobAction} label={`Give up ${title}`}>
            <Saved run={run} />
            <TextArea
              name="note"
              label="Why"
              hint="It cures nothing. What was checked on this part before is asked again, since it was opened."
              rows={2}
              required
            />
            <div>
              <SubmitButton look="quiet">Give it up</SubmitButton>
            </div>
          </ActionForm>
        </Disclosure>
      </div>
    </article>
  )
}

/** What is known to be open, as the beginning of what is undone. */
export function undoneOf({ openStates }: Bench): string {
  return [...new Set(openStates.map(({ title }) => title))].join(', ')
}

function OneTap({
  action,
  run,
  says,
  look = 'quiet',
  everybody = false,
}: {
  action: typeof pauseJobAction
  run: RunUnderWay
  says: string
  look?: 'main' | 'quiet'
  everybody?: boolean
}) {
  return (
    <ActionForm action={action} label={`${says}: ${run.title}`} className="flex flex-col gap-2">
      <Saved run={run} />
      {everybody && <HiddenField name="everybody" value="yes" />}
      <SubmitButton look={look}>{says}</SubmitButton>
    </ActionForm>
  )
}

function Saved({ run }: { run: Pick<RunUnderWay, 'id' | 'version'> }) {
  return (
    <>
      <HiddenField name="run" value={run.id} />
      <VersionField version={run.version} />
    </>
  )
}
