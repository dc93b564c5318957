import { distanceWords } from './distance-words'

/** The distance on the clock, for papers on which distances stand and nothing else says what they are worth. */
export function DistanceOnPaper({ told }: { told: Parameters<typeof distanceWords>[0] }) {
  return <p className="hidden print:block">Distance on the clock: {distanceWords(told)}.</p>
}
