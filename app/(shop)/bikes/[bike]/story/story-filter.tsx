import type { StoryAsked } from '../../../../../lib/shop/read-story'
import type { StoryKind } from '../../../../../lib/shop/story-words'
import { kindWords } from './story-kinds'

/** A plain form that changes the address, so that it works before and without scripts. */
export function StoryFilter({
  at,
  kinds,
  asked,
}: {
  at: string
  kinds: readonly StoryKind[]
  asked: StoryAsked
}) {
  return (
    <search>
      <form
        action={at}
        aria-label="Choose entries"
        className="no-print grid items-end gap-3 sm:grid-cols-[auto_auto_auto_1fr]"
      >
        <label className="flex flex-col gap-1 font-semibold">
          Entries
          <select name="kind" defaultValue={asked.kind ?? ''} className="field-box font-normal">
            <option value="">All</option>
            {kinds.map((kind) => (
              <option key={kind} value={kind}>
                {kindWords[kind]}
              </option>
            ))}
          </select>
        </label>
        <label className="flex flex-col gap-1 font-semibold">
          Order
          <select name="order" defaultValue={asked.order} className="field-box font-normal">
            <option value="newest">Newest first</option>
            <option value="oldest">Oldest first</option>
          </select>
        </label>
        <button type="submit" className="btn-quiet">
          Show
        </button>
      </form>
    </search>
  )
}
