import { EmptyState } from '../_ui/notes'
import { PageHead } from '../_ui/page-head'

/** There is nothing on this phone to go on with, and why. */
export function NothingKept({ says, signedOut = false }: { says: string; signedOut?: boolean }) {
  return (
    <div className="flex flex-col gap-6">
      <PageHead title="Away from the shop" />
      <EmptyState
        title="Nothing is kept here"
        action={
          <a href={signedOut ? '/sign-in' : '/'} className="btn">
            {signedOut ? 'Sign in' : 'To the shop'}
          </a>
        }
      >
        {says}
      </EmptyState>
    </div>
  )
}
