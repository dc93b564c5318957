import type { FrameShown } from '../../../../lib/shop/read-bike'
import { VerdictMark } from '../../../_ui/marks'

const digitSays: Record<FrameShown['checkDigit'], string> = {
  right: 'Its check digit is right.',
  wrong: 'Its check digit is wrong: read it on the frame again, digit by digit.',
  note: 'It has no check digit; outside North America none is required.',
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
        {checkDigit === 'right' && <VerdictMark verdict="within" />}
        {checkDigit === 'wrong' && <VerdictMark verdict="outside" />}
      </p>
      <p>
        {digitSays[checkDigit]}
        {modelYears.length > 0 && ` Model year ${modelYears.join(' or ')}.`}
        {claimedYearFits === true && ' The year claimed fits.'}
        {claimedYearFits === false && ' The year claimed does not fit: ask for the papers.'}
      </p>
      {problems.length > 0 && (
        <ul className="text-soft">
          {problems.map((problem) => (
            <li key={problem}>{problem}</li>
          ))}
        </ul>
      )}
    </div>
  )
}
