import type { BoardAsked } from '../../../lib/shop/read-board'
import { stages } from '../../../lib/shop/stages'
import { stageWord } from '../../_ui/marks'

const orders = [
  { value: 'margin', label: 'Margin' },
  { value: 'margin-per-bench-hour', label: 'Margin per bench hour' },
  { value: 'chance-of-loss', label: 'Chance of loss' },
]

/** Order, stage and search. A plain form that changes the address, so a view can be linked and needs no script. */
export function BoardControls({ asked }: { asked: BoardAsked }) {
  return (
    <search>
      <form
        action="/board"
        aria-label="Board"
        className="no-print grid items-end gap-3 sm:grid-cols-[1fr_auto_auto_auto]"
      >
        <label className="flex flex-col gap-1 font-semibold">
          Find
          <input
            type="search"
            name="search"
            defaultValue={asked.search}
            placeholder="Number, plate or make"
            className="field-box font-normal"
          />
        </label>
        <label className="flex flex-col gap-1 font-semibold">
          Ordered by
          <select name="by" defaultValue={asked.by} className="field-box font-normal">
            {orders.map(({ value, label }) => (
              <option key={value} value={value}>
                {label}
              </option>
            ))}
          </select>
        </label>
        <label className="flex flex-col gap-1 font-semibold">
          Stage
          <select name="stage" defaultValue={asked.stage} className="field-box font-normal">
            <option value="open">Not sold, not passed up</option>
            <option value="all">All</option>
            {stages.map((stage) => (
              <option key={stage} value={stage}>
                {stageWord(stage)}
              </option>
            ))}
          </select>
        </label>
        <button type="submit" className="btn-quiet">
          Show
        </button>
      </form>
    </search>
  )
}
