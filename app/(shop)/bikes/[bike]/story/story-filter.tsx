import type { StoryAsked } from '../../../../../lib/shop/read-story'
import type { StoryKind } from '../../../../../lib/shop/story-words'
import { FindChoice, FindForm } from '../../../../_ui/find-form'
import { kindWords } from './story-kinds'

const orders = [
  { value: 'newest', label: 'Newest first' },
  { value: 'oldest', label: 'Oldest first' },
]

/** Which entries, and in which order. */
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
    <FindForm action={at} label="Choose entries" columns="sm:grid-cols-[auto_auto_auto_1fr]">
      <FindChoice
        name="kind"
        label="Entries"
        chosen={asked.kind ?? ''}
        choices={[
          { value: '', label: 'All' },
          ...kinds.map((kind) => ({ value: kind, label: kindWords[kind] })),
        ]}
      />
      <FindChoice name="order" label="Order" chosen={asked.order} choices={orders} />
    </FindForm>
  )
}
