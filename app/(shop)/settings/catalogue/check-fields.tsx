import { rounds, shortPlaces, standPlaces } from '../../../../lib/core/checks/catalogue'
import type { Choice } from '../../../_ui/field'
import { formatUnit } from '../../../_ui/formats'
import { roundWords, standWords } from '../../bikes/[bike]/checks/round-words'
import {
  ChoiceField,
  choicesOf,
  FigureField,
  type FormFacts,
  Group,
  LinesField,
  rowsOf,
  TextField,
  TickField,
  TicksField,
} from './entry-form'
import { KindChoices } from './kind-choices'
import { placeWords } from './words'

/** All that a shop may set of a check. */
export function CheckFields({ of }: { of: FormFacts }) {
  return (
    <>
      <Group
        of={of}
        title="What is done"
        heads={['title', 'round', 'how', 'needs', 'safety', 'cautions', 'appliesTo']}
      >
        <TextField of={of} name="title" label="Title" required />
        {of.own && (
          <ChoiceField
            of={of}
            name="round"
            label="Round"
            required
            empty="Choose one"
            choices={rounds.map((round) => ({
              value: round,
              label: `${roundWords[round].name}: ${roundWords[round].when}`,
            }))}
          />
        )}
        <LinesField
          of={of}
          name="how"
          label="How it is done"
          hint="A sentence a line, each one step."
          rows={6}
          required
        />
        <LinesField of={of} name="needs" label="What it needs" hint="A tool a line." rows={3} />
        {of.own && (
          <>
            <TickField
              of={of}
              name="safety"
              label="Somebody could be hurt by it"
              hint="Then it stands first, and a measurement must keep its limit by a clear margin."
            />
            <TicksField
              of={of}
              name="cautions[]"
              label="Cautions shown beside it"
              columns={2}
              choices={of.cautions.map(({ key, title }) => ({ value: key, label: title }))}
            />
          </>
        )}
        <KindChoices of={of} />
      </Group>
      <Group of={of} title="Time and place" heads={['minutes', 'standAt', 'short', 'staleAfterDays']}>
        <FigureField of={of} name="minutes" label="Minutes it takes" unit="min" required />
        <ChoiceField
          of={of}
          name="standAt"
          label="Where one stands for it"
          empty="No place of its own"
          choices={standPlaces.map((place) => ({ value: place, label: standWords[place] }))}
        />
        <ChoiceField
          of={of}
          name="short"
          label="In the short round"
          empty="Not in it"
          choices={shortPlaces.map((place) => ({ value: place, label: placeWords[place] }))}
        />
        <FigureField
          of={of}
          name="staleAfterDays"
          label="Asked for again after"
          hint="Empty: an answer holds until somebody gives another."
          unit="days"
        />
      </Group>
      <Values of={of} />
      <Raises of={of} />
    </>
  )
}

/** What can be answered or read, and what it is held against. */
function Values({ of }: { of: FormFacts }) {
  switch (of.sort) {
    case 'measured':
      return <MeasuredValues of={of} />
    case 'number':
      return (
        <Group of={of} title="What is noted" heads={['unitWord', 'plausible']}>
          <TextField
            of={of}
            name="unitWord"
            label="What is counted"
            hint="Such as keys, miles, years."
            required
          />
          <Plausible of={of} />
        </Group>
      )
    case 'code':
      return 'overYears' in of.typed && (of.shown === null || of.typed.overYears !== '') ? (
        <Group of={of} title="When it is due" heads={['overYears']}>
          <FigureField of={of} name="overYears" label="Due after" unit="years" required />
        </Group>
      ) : null
    default:
      return <Answers of={of} />
  }
}

function MeasuredValues({ of }: { of: FormFacts }) {
  const unit = of.unit === '' ? undefined : formatUnit(of.unit)
  return (
    <Group
      of={of}
      title="Limit and sale line"
      sub="The general limit gives way to what is entered for a model or stamped on the part. Past the sale line a part is legal and still has to be done."
      heads={['limit', 'saleLine', 'plausible']}
    >
      {!of.shown && (
        <>
          <ChoiceField
            of={of}
            name="instrument"
            label="Measured with"
            hint="Its unit becomes the unit of the check."
            empty="Choose one"
            required
            choices={of.instruments.map(({ key, name, unit: reads }) => ({
              value: key,
              label: `${name} (${formatUnit(reads)})`,
            }))}
          />
          <TextField of={of} name="position" label="Where it is measured" hint="Such as: at the plug." />
          <ChoiceField
            of={of}
            name="judgedOn"
            label="Which reading counts"
            empty="Choose one"
            required
            choices={[
              { value: 'lowest', label: 'The lowest' },
              { value: 'highest', label: 'The highest' },
              { value: 'each', label: 'Each one' },
              { value: 'mean', label: 'The mean' },
            ]}
          />
        </>
      )}
      <div className="grid gap-4 sm:grid-cols-2">
        <FigureField of={of} name="limit.min" label="Limit: at least" unit={unit} />
        <FigureField of={of} name="limit.max" label="Limit: at most" unit={unit} />
        <FigureField of={of} name="saleLine.min" label="Sale line: at least" unit={unit} />
        <FigureField of={of} name="saleLine.max" label="Sale line: at most" unit={unit} />
        <FigureField of={of} name="limit.asNew" label="As new" unit={unit} />
      </div>
      <Plausible of={of} unit={unit} />
    </Group>
  )
}

function Plausible({ of, unit }: { of: FormFacts; unit?: string }) {
  return (
    <div className="grid gap-4 sm:grid-cols-2">
      <FigureField of={of} name="plausible.min" label="Lowest that can be read" unit={unit} required />
      <FigureField
        of={of}
        name="plausible.max"
        label="Highest that can be read"
        hint="Past it a number is taken for a slip of the finger."
        unit={unit}
        required
      />
    </div>
  )
}

const tones: readonly Choice[] = [
  { value: 'good', label: 'All is well' },
  { value: 'note', label: 'To be noted' },
  { value: 'bad', label: 'Not right' },
]

function Answers({ of }: { of: FormFacts }) {
  const there = rowsOf(of.typed, 'answers')
  const rows = of.shown ? there + (of.own ? 1 : 0) : 4
  return (
    <Group
      of={of}
      title="Answers"
      sub={
        of.shown
          ? 'Readings keep the answer they have; only its words change.'
          : 'Two at least. Empty lines are left out.'
      }
      heads={['answers']}
    >
      {Array.from({ length: rows }, (_, row) => {
        const name = `answers.${row}`
        const fresh = row >= there
        return (
          // biome-ignore lint/suspicious/noArrayIndexKey: a row is known by its place, which is its field's name
          <fieldset key={row} className="grid gap-3 border-l-4 border-rule pl-3 sm:grid-cols-2">
            <legend className="font-semibold">
              {fresh && of.shown ? 'One more answer' : `Answer ${row + 1}`}
            </legend>
            {!fresh && <input type="hidden" name={`${name}.key`} value={of.typed[`${name}.key`] ?? ''} />}
            <TextField of={of} name={`${name}.label`} label="Words" required={!fresh} />
            {of.own ? (
              <ChoiceField
                of={of}
                name={`${name}.tone`}
                label="It says"
                empty="Choose one"
                choices={tones}
                required={!fresh}
              />
            ) : (
              <p className="self-end pb-2 text-soft">
                It says: {tones.find(({ value }) => value === of.typed[`${name}.tone`])?.label.toLowerCase()}
              </p>
            )}
            {fresh && (
              <ChoiceField
                of={of}
                name={`${name}.effect`}
                label="It raises"
                empty="Nothing"
                choices={effectsOf(of)}
              />
            )}
          </fieldset>
        )
      })}
    </Group>
  )
}

/** Which answer or reading raises which fault. */
function Raises({ of }: { of: FormFacts }) {
  if (!of.shown && of.sort === 'look') return null
  const there = rowsOf(of.typed, 'raises')
  const figures = of.sort === 'number'
  const whens = whensOf(of)
  const effects = effectsOf(of)
  if (whens.length === 0) return null
  return (
    <Group
      of={of}
      title="What it raises"
      sub="A line a fault; a line that is emptied is taken away. What raises a stop that only its job opens stays."
      heads={['raises']}
    >
      {Array.from({ length: there + 1 }, (_, row) => {
        const name = `raises.${row}`
        return (
          <fieldset
            // biome-ignore lint/suspicious/noArrayIndexKey: a row is known by its place, which is its field's name
            key={row}
            className={`grid gap-3 border-l-4 border-rule pl-3 ${figures ? 'sm:grid-cols-[1fr_8rem_1fr]' : 'sm:grid-cols-2'}`}
          >
            <legend className="font-semibold">{row < there ? `Line ${row + 1}` : 'One more'}</legend>
            <ChoiceField of={of} name={`${name}.when`} label="Where" empty="Nothing chosen" choices={whens} />
            {figures && <FigureField of={of} name={`${name}.than`} label="Figure" />}
            <ChoiceField
              of={of}
              name={`${name}.effect`}
              label="It raises"
              empty="Nothing"
              choices={effects}
            />
          </fieldset>
        )
      })}
    </Group>
  )
}

function whensOf({ sort, typed }: FormFacts): Choice[] {
  switch (sort) {
    case 'measured':
      return [
        { value: 'outside', label: 'past the limit, on either side' },
        { value: 'below-limit', label: 'below the limit' },
        { value: 'above-limit', label: 'above the limit' },
        { value: 'below-sale-line', label: 'past the sale line' },
      ]
    case 'number':
      return [
        { value: 'over', label: 'over the figure' },
        { value: 'under', label: 'under the figure' },
      ]
    case 'code': {
      const tyre = Object.values(typed).some((text) => text.startsWith('older-than:'))
      return [
        { value: 'outside', label: 'due by age, or not known' },
        ...(tyre
          ? [
              { value: 'older-than:guidance', label: 'older than the guidance' },
              { value: 'older-than:sale-line', label: 'older than the shop sells' },
            ]
          : []),
      ]
    }
    default:
      return Array.from({ length: rowsOf(typed, 'answers') }, (_, row) => ({
        value: `answer:${typed[`answers.${row}.key`] ?? ''}`,
        label: `it is answered: ${typed[`answers.${row}.label`] ?? ''}`,
      }))
  }
}

function effectsOf(of: FormFacts): Choice[] {
  const { titles, causes } = of
  return [
    ...choicesOf(of, 'fault').map(({ value, label }) => ({ value: `fault:${value}`, label })),
    ...causes.flatMap(({ fault, job }) => {
      const says = `${titles.fault[fault] ?? fault}: ${titles.job[job] ?? job}`
      return [
        { value: `settles:${fault}/${job}`, label: `This is the cause. ${says}` },
        { value: `rules-out:${fault}/${job}`, label: `This is not the cause. ${says}` },
      ]
    }),
  ]
}
