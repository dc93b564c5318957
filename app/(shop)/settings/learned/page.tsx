import type { Metadata } from 'next'
import { countWritten, everyFault, type LearnedShown, readLearned } from '../../../../lib/shop/learned'
import { openPage } from '../../../../lib/web/pages'
import { ActionForm } from '../../../_ui/action-form'
import { Disclosure } from '../../../_ui/disclosure'
import { countOf, formatDay, formatShare } from '../../../_ui/formats'
import { HiddenField, VersionField } from '../../../_ui/hidden-field'
import { PageHead } from '../../../_ui/page-head'
import { Sheet } from '../../../_ui/sheet'
import { SubNav } from '../../../_ui/sub-nav'
import { SubmitButton } from '../../../_ui/submit-button'
import { settingsEntries } from '../entries'
import { acceptLearnedAction, revertLearnedAction } from './actions'

export const metadata: Metadata = { title: 'Learned chances' }

/** What the shop's own looks say of the chances that faults hide: offered here, and never taken by itself. */
export default async function Learned() {
  const context = await openPage('/settings/learned')
  const { version, priorBikes, offered, accepted } = await readLearned(context)
  const moves = ({ inForce, learned }: LearnedShown) => Math.abs(learned - inForce) >= oneInAHundred
  const moved = offered.filter(moves)
  const hardly = offered.filter((one) => !moves(one))
  return (
    <main id="main" className="page">
      <PageHead
        title="Learned chances"
        sub={
          'Bikes looked at as a matter of routine say how often a fault hides here. A chance changes only when ' +
          'you accept it, under a new number of the figures.'
        }
        figure={{ label: 'Chances to look at', value: moved.length }}
      />
      <SubNav label="Settings" entries={settingsEntries} current="/settings/learned" />
      <Sheet
        title="Counted here, not in force"
        sub={`A starting chance weighs as much as ${countOf(priorBikes, 'bike')}; what moves most stands first. Chances are before the age of a bike and before a refusal.`}
      >
        {offered.length === 0 ? (
          <p>
            Nothing new is counted. A look counts when at least half of its round is answered within twelve
            hours, before anybody works on the bike.
          </p>
        ) : (
          <ActionForm
            action={acceptLearnedAction}
            label="Accept what was counted"
            done="Accepted. Every bike is reckoned with it now."
          >
            <VersionField version={version} />
            {offered.map((one) => (
              <HiddenField key={one.fault} name={`seen.${one.fault}`} value={countWritten(one)} />
            ))}
            {moved.length > 0 && <Offered offered={moved} />}
            {hardly.length > 0 && (
              <Disclosure
                summary={`${countOf(hardly.length, 'chance')} that move${hardly.length === 1 ? 's' : ''} by less than one in a hundred`}
              >
                <Offered offered={hardly} />
              </Disclosure>
            )}
            <div>
              <SubmitButton name="fault" value={everyFault}>
                Accept all {offered.length}
              </SubmitButton>
            </div>
          </ActionForm>
        )}
      </Sheet>
      {accepted.length > 0 && (
        <Sheet title="In force" sub="These stand in the place of the starting chances.">
          <ActionForm
            action={revertLearnedAction}
            label="Back to the starting chance"
            done="The starting chance is back."
          >
            <VersionField version={version} />
            <ul className="flex flex-col">
              {accepted.map((one) => (
                <Row key={one.fault} one={one} until={one.until}>
                  <p>
                    Starting chance {formatShare(one.starting)}, in force{' '}
                    <strong>{formatShare(one.inForce)}</strong>
                  </p>
                  <SubmitButton look="quiet" name="fault" value={one.fault}>
                    Back to the starting chance
                    <span className="sr-only"> of {one.title.toLowerCase()}</span>
                  </SubmitButton>
                </Row>
              ))}
            </ul>
            {accepted.length > 1 && (
              <div>
                <SubmitButton look="quiet" name="fault" value={everyFault}>
                  All {accepted.length} back to their starting chances
                </SubmitButton>
              </div>
            )}
          </ActionForm>
        </Sheet>
      )}
    </main>
  )
}

/** Chances are told in whole per cent: what moves by less looks the same before and after. */
const oneInAHundred = 0.01

function Offered({ offered }: { offered: readonly LearnedShown[] }) {
  return (
    <ul className="grid gap-x-10 lg:grid-cols-2">
      {offered.map((one) => (
        <Row key={one.fault} one={one}>
          <p>
            {one.inForce === one.starting ? 'Starting chance' : 'In force'}{' '}
            <strong>{formatShare(one.inForce)}</strong>, learned <strong>{formatShare(one.learned)}</strong>
            {one.inForce !== one.starting && ` (starting chance ${formatShare(one.starting)})`}
          </p>
          <SubmitButton look="quiet" name="fault" value={one.fault}>
            Accept<span className="sr-only"> for {one.title.toLowerCase()}</span>
          </SubmitButton>
        </Row>
      ))}
    </ul>
  )
}

function Row({
  one,
  until,
  children,
}: {
  one: LearnedShown
  until?: string
  children: readonly React.ReactNode[]
}) {
  const { title, found, looked } = one
  const [says, button] = children
  return (
    <li className="grid items-center gap-x-4 gap-y-1 border-b border-rule py-3 sm:grid-cols-[1fr_auto]">
      <div>
        <h3>{title}</h3>
        <p className="text-soft">
          {found} of {countOf(looked, 'bike')} here{until && `, counted until ${formatDay(until)}`}
        </p>
        {says}
      </div>
      <div>{button}</div>
    </li>
  )
}
