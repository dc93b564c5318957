import type { LimitGone } from '../../../../lib/shop/limit-history'
import { Disclosure } from '../../../_ui/disclosure'
import { countOf, formatInstant } from '../../../_ui/formats'

/** What held once: who entered it and who took it back or put another in its place, with when. */
export function GoneLimits({ gone, zone }: { gone: readonly LimitGone[]; zone: string }) {
  if (gone.length === 0) return null
  return (
    <section aria-label="Limits that hold no more" className="no-print sheet">
      <Disclosure
        summary={
          <>
            <span className="font-semibold">Hold no more</span>{' '}
            <span className="text-soft">{countOf(gone.length, 'limit')} taken back or replaced</span>
          </>
        }
      >
        <ul className="flex flex-col">
          {gone.map((one) => (
            <li key={one.id} className="border-b border-rule py-2 last:border-0">
              <p>
                <strong>
                  {one.title}
                  {one.position && `, ${one.position}`}
                </strong>
                : {one.figures}
              </p>
              <p className="text-soft">
                {one.heldFor || 'every bike'} · {one.source}
                {one.note && `: ${one.note}`}
              </p>
              <p className="text-soft">
                Entered by {one.enteredBy}, {formatInstant(one.enteredAt, zone)}; taken back by{' '}
                {one.withdrawnBy}, {formatInstant(one.withdrawnAt, zone)}.
              </p>
            </li>
          ))}
        </ul>
      </Disclosure>
    </section>
  )
}
