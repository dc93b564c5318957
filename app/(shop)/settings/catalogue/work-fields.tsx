import type { Job, Operation } from '../../../../lib/core/checks/catalogue'
import { calls, lockKinds } from '../../../../lib/core/checks/catalogue'
import { typedMoney } from '../../../../lib/core/quantity/typed-money'
import { PartFields, ThreeFields } from '../../../_ui/figure-fields'
import {
  ChoiceField,
  ChoiceRows,
  choicesOf,
  FigureField,
  type FormFacts,
  Group,
  rowsOf,
  startingNote,
  TextField,
  TickField,
  TicksField,
} from './entry-form'
import { KindChoices } from './kind-choices'

const callWords = {
  stop: 'Stop: shuts a round until it is put right',
  must: 'Must: done on every bike that is sold',
  pays: 'Pays: done where it earns more than it costs',
  leave: 'Leave: sold with it',
} as const

const lockWords = {
  ignition: 'Switching on',
  engine: 'Starting the engine',
  road: 'Riding',
} as const

/** All that a shop may set of a fault. */
export function FaultFields({ of }: { of: FormFacts }) {
  const jobs = choicesOf(of, 'job')
  const causes = rowsOf(of.typed, 'causes')
  const rows = of.shown ? causes + 1 : 3
  return (
    <>
      <Group
        of={of}
        title="What it is"
        sub={
          of.guarded ? 'Somebody could be hurt by it: it stays a stop that only its job opens.' : undefined
        }
        heads={['title', 'means', 'call', 'locks', 'clearedBy', 'appliesTo']}
      >
        <TextField of={of} name="title" label="Title" required />
        <TextField
          of={of}
          name="means"
          label="What it means"
          hint="One sentence for whoever decides."
          required
        />
        <ChoiceField
          of={of}
          name="call"
          label="What it asks for"
          empty="Choose one"
          required
          choices={calls.map((call) => ({ value: call, label: callWords[call] }))}
        />
        <TicksField
          of={of}
          name="locks[]"
          label="What a stop shuts"
          columns={3}
          choices={lockKinds.map((lock) => ({ value: lock, label: lockWords[lock] }))}
        />
        <ChoiceField
          of={of}
          name="clearedBy"
          label="What opens a stop again"
          empty="It is no stop"
          choices={[
            { value: 'job', label: 'Only its job and the checks after it' },
            { value: 'reason', label: 'Also a manager’s reason, for a day' },
          ]}
        />
        <KindChoices of={of} />
      </Group>
      <Group
        of={of}
        title="What it costs to leave it"
        sub="What a buyer pays less for a bike that has it, and how often it is there where nobody has looked."
        heads={['saleOff', 'slowerDays', 'hidden']}
      >
        <FigureField of={of} name="saleOff" label="Off the sale price where it is left" unit={of.currency} />
        <FigureField of={of} name="slowerDays" label="Days longer for sale where it is left" unit="days" />
        <div className="grid gap-4 sm:grid-cols-3">
          <FigureField of={of} name="hidden.kept" label="On a well kept bike" unit="%" />
          <FigureField of={of} name="hidden.average" label="On an average one" unit="%" />
          <FigureField of={of} name="hidden.neglected" label="On a neglected one" unit="%" />
        </div>
      </Group>
      <Group
        of={of}
        title="What cures it"
        sub="Either jobs, of which the first is taken unless somebody chooses another, or causes, of which exactly one is true."
        heads={['jobs', 'causes', 'diagnosis', 'noJobBecause']}
      >
        <ChoiceRows of={of} name="jobs" label="Job" choices={jobs} />
        <TextField of={of} name="noJobBecause" label="Why no job cures it" hint="Only where there is none." />
        {Array.from({ length: rows }, (_, row) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a row is known by its place, which is its field's name
          <fieldset key={row} className="grid gap-3 border-l-4 border-rule pl-3 sm:grid-cols-[1fr_8rem]">
            <legend className="font-semibold">{row < causes ? `Cause ${row + 1}` : 'One more cause'}</legend>
            <ChoiceField
              of={of}
              name={`causes.${row}.job`}
              label="Put right by"
              empty="None"
              choices={jobs}
            />
            <FigureField of={of} name={`causes.${row}.share`} label="Share" unit="%" />
          </fieldset>
        ))}
        <ChoiceField
          of={of}
          name="diagnosis"
          label="The cause is found out by"
          empty="Nothing"
          choices={jobs}
        />
      </Group>
      <Group of={of} title="Checked again by" sub="The checks that prove the cure." heads={['rechecks']}>
        <ChoiceRows of={of} name="rechecks" label="Check" choices={choicesOf(of, 'check')} />
      </Group>
    </>
  )
}

/** All that a shop may set of a job. */
export function JobFields({ of, job }: { of: FormFacts; job: Job | null }) {
  return (
    <>
      <Group of={of} title="What it is" heads={['title', 'fasteners', 'cautions', 'appliesTo']}>
        <TextField of={of} name="title" label="Title" required />
        <TickField of={of} name="fasteners" label="Stuck fasteners slow it" />
        {of.own && (
          <TicksField
            of={of}
            name="cautions[]"
            label="Cautions shown beside it"
            columns={2}
            choices={of.cautions.map(({ key, title }) => ({ value: key, label: title }))}
          />
        )}
        <KindChoices of={of} />
      </Group>
      <Group
        of={of}
        title="Hours and prices"
        sub="Costs, not what a customer would be charged."
        heads={['hours', 'outsideWork', 'parts']}
      >
        <ThreeFields
          name="hours"
          legend="Hours of its own"
          value={job?.hours ?? null}
          write={String}
          unit="h"
        />
        <ThreeNote of={of} name="hours" unit="h" />
        <ThreeFields
          name="outsideWork"
          legend="Paid to somebody else"
          value={job?.outsideWork ?? 0}
          write={typedMoney}
          unit={of.currency}
        />
        <ThreeNote of={of} name="outsideWork" unit={of.currency} />
        <PartFields name="parts" parts={job?.parts ?? []} currency={of.currency} />
      </Group>
      <Group
        of={of}
        title="Shared operations"
        sub="Labour it shares with other jobs; counted once on a bike."
        heads={['operations']}
      >
        <ChoiceRows of={of} name="operations" label="Operation" choices={choicesOf(of, 'operation')} />
      </Group>
    </>
  )
}

/** All that a shop may set of an operation. */
export function OperationFields({ of, operation }: { of: FormFacts; operation: Operation | null }) {
  const others = choicesOf(of, 'operation').filter(({ value }) => value !== of.shown?.key)
  return (
    <>
      <Group of={of} title="What it is" heads={['title', 'hours', 'fasteners']}>
        <TextField of={of} name="title" label="Title" required />
        <ThreeFields name="hours" legend="Hours" value={operation?.hours ?? null} write={String} unit="h" />
        <ThreeNote of={of} name="hours" unit="h" />
        <TickField of={of} name="fasteners" label="Stuck fasteners slow it" />
      </Group>
      <Group of={of} title="What must come before" sub="Counted once, whatever needs it." heads={['needs']}>
        <ChoiceRows of={of} name="needs" label="Operation" choices={others} />
      </Group>
    </>
  )
}

/** What three figures were at first, where the shop set them otherwise. */
function ThreeNote({ of, name, unit }: { of: FormFacts; name: string; unit: string }) {
  const points = ['low', 'likely', 'high'].map((point) => `${name}.${point}`)
  if (points.every((point) => startingNote(of, point) === null)) return null
  return (
    <p className="text-soft">
      Starting value: {points.map((point) => of.starting?.[point] ?? '').join(', ')} {unit}.
    </p>
  )
}
