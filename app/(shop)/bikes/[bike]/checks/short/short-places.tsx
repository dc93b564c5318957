import { shortPlaces } from '../../../../../../lib/core/checks/catalogue'
import { isAsked } from '../../../../../../lib/shop/round-progress'
import { Disclosure } from '../../../../../_ui/disclosure'
import type { SeenCheck } from '../as-seen-here'
import { placeWords } from '../round-words'
import { RowButton } from '../rows-of-round'

/** The way round the bike: at each place what is still asked for, and folded away what is answered. */
export function ShortPlaces({
  rows,
  current,
  onOpen,
}: {
  rows: readonly SeenCheck[]
  current: string | null
  onOpen: (check: string) => void
}) {
  return (
    <section aria-label="All of the short round" className="flex flex-col gap-4">
      {shortPlaces.map((place) => {
        const here = rows.filter(({ check }) => check.short === place)
        const asked = here.filter(isAsked)
        const answered = here.filter((row) => !isAsked(row))
        if (here.length === 0) return null
        return (
          <section key={place} aria-label={placeWords[place]}>
            <h2 className="border-b-2 border-ink pb-1 text-lg">{placeWords[place]}</h2>
            <ul>
              {asked.map((row) => (
                <li key={row.check.key} className="border-b border-rule py-1">
                  <RowButton row={row} current={row.check.key === current} onOpen={onOpen} />
                </li>
              ))}
            </ul>
            {answered.length > 0 && (
              <div className="py-1">
                <Disclosure summary={<span className="text-soft">{answered.length} answered</span>}>
                  <ul>
                    {answered.map((row) => (
                      <li key={row.check.key} className="border-b border-rule py-1">
                        <RowButton row={row} current={row.check.key === current} onOpen={onOpen} />
                      </li>
                    ))}
                  </ul>
                </Disclosure>
              </div>
            )}
          </section>
        )
      })}
    </section>
  )
}
