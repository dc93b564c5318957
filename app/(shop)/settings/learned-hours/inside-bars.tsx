import { formatShare } from '../../../_ui/formats'

/** Of all jobs done, how many fell into the range of eight in ten: a bar, and a post where it should end. */
export function InsideBars({ jobs, inside }: { jobs: number; inside: number }) {
  const share = inside / jobs
  return (
    <figure className="flex flex-col gap-1">
      <figcaption>
        <strong>
          {inside} of {jobs}
        </strong>{' '}
        fell into their range, {formatShare(share)}; eight of ten are expected.
      </figcaption>
      <svg aria-hidden="true" width="100%" height="44" className="block text-accent">
        <rect x="0" y="6" width="100%" height="20" className="fill-wash stroke-edge" />
        <rect x="0" y="6" width={`${share * 100}%`} height="20" fill="currentColor" />
        <line x1="80%" x2="80%" y1="0" y2="32" className="stroke-ink" strokeWidth="3" />
        <text x="80%" y="42" textAnchor="middle" fontSize="13" className="fill-ink">
          8 of 10
        </text>
      </svg>
    </figure>
  )
}
