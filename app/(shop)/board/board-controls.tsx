import type { BoardAsked } from '../../../lib/shop/read-board'
import { stages } from '../../../lib/shop/stage-names'
import { FindChoice, FindForm, FindWords } from '../../_ui/find-form'
import { stageWord } from '../../_ui/marks'

const orders = [
  { value: 'margin', label: 'Margin' },
  { value: 'gain-from-going-on', label: 'Gain from going on' },
  { value: 'left-after-its-keep', label: 'Left after its keep' },
  { value: 'margin-per-bench-hour', label: 'Margin per bench hour' },
  { value: 'gain-per-bench-hour', label: 'Gain per bench hour' },
  { value: 'chance-of-loss', label: 'Chance of loss' },
  { value: 'days-to-sold', label: 'Days to sold' },
] as const satisfies readonly { value: BoardAsked['by']; label: string }[]

const stageChoices = [
  { value: 'open', label: 'Still open' },
  { value: 'all', label: 'All' },
  ...stages.map((stage) => ({ value: stage, label: stageWord(stage) })),
]

/** Order, stage and search. */
export function BoardControls({ asked }: { asked: BoardAsked }) {
  return (
    <FindForm
      action="/board"
      label="Board"
      columns="sm:grid-cols-[1fr_auto_auto_auto]"
      words={<FindWords typed={asked.search} example="Number, plate or make" />}
    >
      <FindChoice name="by" label="Ordered by" chosen={asked.by} choices={orders} />
      <FindChoice name="stage" label="Stage" chosen={asked.stage} choices={stageChoices} />
    </FindForm>
  )
}
