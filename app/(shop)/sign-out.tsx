'use client'

import { useState } from 'react'
import { ActionForm } from '../_ui/action-form'
import { isForAuthorOnly } from '../_ui/outbox/outbox'
import { useOutbox } from '../_ui/outbox/use-outbox'
import { isUnsent, lastsNot, sendingWords } from '../_ui/outbox/words'
import { SubmitButton } from '../_ui/submit-button'
import { signOutAction } from './actions'

/**
 * Signs out, and asks first where something recorded here is not on the server: it can be sent now, or left here,
 * where it goes out under its author's name once the next person signs in.
 */
export function SignOut({ person }: { person: string }) {
  const { state, outbox } = useOutbox(person)
  const [asking, setAsking] = useState(false)
  const unsent = state.entries.filter(isUnsent)
  if (unsent.length === 0 && !asking) return <Out words="Sign out" look="plain" />
  return (
    <>
      <button
        type="button"
        className="tap cursor-pointer px-2 font-semibold text-accent underline underline-offset-4"
        onClick={() => setAsking(true)}
      >
        Sign out
      </button>
      {asking && (
        <dialog
          ref={openAsModal}
          onClose={() => setAsking(false)}
          aria-labelledby="unsent"
          className="bench m-auto max-w-prose border-2 border-ink bg-sheet p-5 text-ink backdrop:bg-ink/40"
        >
          <div className="flex flex-col gap-4">
            <h2 id="unsent">
              {unsent.length > 0 ? 'Not everything is on the server yet' : 'Everything is on the server'}
            </h2>
            <p role="status">{sendingWords(state)}</p>
            {unsent.length > 0 && (
              <p>
                {unsent.some(lastsNot)
                  ? 'This browser keeps nothing when the page is left: send it before you sign out.'
                  : unsent.some(({ kept }) => isForAuthorOnly(kept))
                    ? 'Left here, it stays on this device and goes out once you sign in here again.'
                    : 'Left here, it stays on this device and goes out under your name once the next person signs in.'}
              </p>
            )}
            <div className="flex flex-wrap gap-3">
              {unsent.length > 0 && (
                <button type="button" className="btn" onClick={() => void outbox().sendNow()}>
                  Send it now
                </button>
              )}
              {!unsent.some(lastsNot) && (
                <Out words={unsent.length > 0 ? 'Leave it here and sign out' : 'Sign out now'} look="quiet" />
              )}
              <button type="button" className="btn-quiet" onClick={() => setAsking(false)}>
                Stay signed in
              </button>
            </div>
          </div>
        </dialog>
      )}
    </>
  )
}

/** As soon as it is drawn it is the only thing on the page that can be reached. */
function openAsModal(dialog: HTMLDialogElement | null): void {
  if (dialog && !dialog.open) dialog.showModal()
}

function Out({ words, look }: { words: string; look: 'plain' | 'quiet' }) {
  return (
    <ActionForm action={signOutAction} label={words} className="contents">
      <SubmitButton look={look} pending="Signing out …">
        {words}
      </SubmitButton>
    </ActionForm>
  )
}
