import type { FrameShown } from '../../../../lib/shop/read-bike'

/** What is not right with a number is said by its problems. */
const digitSays: Record<FrameShown['checkDigit'], string | null> = {
  right: 'Its check digit is right.',
  wrong: null,
  note: null,
  none: 'A frame number shorter than 17 signs has no check digit and no year in it.',
}

/** The frame number and what it says of itself: whether it can be right, and which years it allows. */
export function FrameNumber({ frame }: { frame: FrameShown | null }) {
  if (!frame) return <p className="mt-4 text-soft">The frame number is not noted.</p>
  const { number, checkDigit, modelYears, claimedYearFits, problems } = frame
  return (
    <div className="mt-4 flex flex-col gap-1">
      <p className="flex flex-wrap items-center gap-3">
        <span className="text-soft">Frame number</span>
        <span className="font-mono text-lg font-semibold break-all">{number}</span>
      </p>
      <p>
        {[
          digitSays[checkDigit],
          modelYears.length > 0 && `Model year ${modelYears.join(' or ')}.`,
          claimedYearFits === true && 'The year claimed fits.',
        ]
          .filter(Boolean)
          .join(' ')}
      </p>
      {problems.length > 0 && (
        <ul className="flex flex-col gap-1">
          {problems.map((problem) => (
            <li key={problem} className={problem.startsWith('Note') ? 'text-soft' : 'font-semibold'}>
              {problem}
            </li>
          ))}
        </ul>
      )}
    </div>
  )
}
