import type { OutboxState } from '../../../../_ui/outbox/outbox'
import { sendingWords } from '../../../../_ui/outbox/words'

/** Where the sending stands, and what the server refused for good, with what was typed. */
export function SendingState({ state, putAway }: { state: OutboxState; putAway: (id: string) => void }) {
  const refused = state.entries.flatMap((entry) => (entry.state === 'refused' ? [entry] : []))
  const words = sendingWords(state)
  return (
    <div className={words === '' && refused.length === 0 ? 'sr-only' : 'flex flex-col gap-3'}>
      <p
        role="status"
        className={state.trouble ? 'border-l-8 border-ochre bg-ochre-wash p-3 font-semibold' : 'text-soft'}
      >
        {words}
      </p>
      {refused.length > 0 && (
        <section aria-label="Not taken" role="alert" className="border-l-8 border-plum bg-plum-wash p-3">
          <p className="font-semibold">The server did not take this. Record it again if it still counts.</p>
          <ul className="mt-2 flex flex-col gap-2">
            {refused.map(({ kept, refused: why }) => (
              <li key={kept.id} className="flex flex-wrap items-center justify-between gap-x-4 gap-y-1">
                <span className="min-w-0">
                  {kept.label}: <strong>{kept.typed}</strong>
                  <span className="block">{Object.values(why.fields)[0] ?? why.message}</span>
                </span>
                <button type="button" className="btn-quiet" onClick={() => putAway(kept.id)}>
                  Put away
                </button>
              </li>
            ))}
          </ul>
        </section>
      )}
    </div>
  )
}
