import type { TyreSize } from '../../../lib/core/codes/tyre-size'
import { Fact } from '../../_ui/fact'
import { formatNumber, formatValue } from '../../_ui/formats'
import { Sheet } from '../../_ui/sheet'
import { TyreSection } from './tyre-section'

const builds = {
  diagonal: 'Diagonal: the plies cross',
  'bias-belted': 'Belted: plies that cross, under a belt',
  radial: 'Radial: the plies run straight from rim to rim',
} as const satisfies Record<TyreSize['construction'], string>

/** Size, load and speed in words, with the wheel drawn to them. */
export function SizeSheet({ size }: { size: TyreSize }) {
  const { widthMm, widthIn, aspectPercent, sideWallMm, construction, rimIn, overallMm, load, speed } = size
  return (
    <Sheet title="What size it is" sub={size.marking}>
      <figure>
        <TyreSection size={size} />
      </figure>
      <dl className="mt-4 grid gap-4 sm:grid-cols-2">
        <Fact
          label="Width"
          value={`${formatValue(widthMm, 'mm', 1)} (${formatValue(widthIn, 'in')})`}
          strong
        />
        <Fact
          label="Side wall"
          value={`${formatValue(sideWallMm, 'mm', 1)}, ${formatNumber(aspectPercent)} % of the width`}
          strong
        />
        <Fact label="Rim" value={formatValue(rimIn, 'in')} strong />
        <Fact label="Over all, worked out" value={formatValue(overallMm, 'mm', 0)} strong />
        <Fact label="Load on this tyre" value={load ? loadSays(load) : 'Not marked'} strong />
        <Fact label="Speed" value={speed ? speedSays(speed) : 'Not marked'} strong />
        <Fact label="Build" value={builds[construction]} wide />
        {size.alsoMarked.length > 0 && (
          <Fact label="Also marked" value={size.alsoMarked.map(alsoSays).join('; ')} wide />
        )}
      </dl>
      {size.notes.length > 0 && (
        <ul className="mt-4 flex list-disc flex-col gap-1 pl-5">
          {size.notes.map((note) => (
            <li key={note}>{note}</li>
          ))}
        </ul>
      )}
    </Sheet>
  )
}

function loadSays({ index, kg }: NonNullable<TyreSize['load']>): string {
  return `${index}: up to ${formatValue(kg, 'kg')}`
}

function speedSays({ symbol, kmh, mph, bound }: NonNullable<TyreSize['speed']>): string {
  const upTo = bound === 'over' ? 'more than' : 'up to'
  return `${symbol}: ${upTo} ${formatValue(kmh, 'km/h')} (${formatValue(mph, 'mph', 0)})`
}

const alsoMeans: Readonly<Record<string, string>> = {
  'M/C': 'M/C, for motorcycles',
  TL: 'TL, without a tube on a rim made for that',
  TT: 'TT, with a tube',
  REINF: 'REINF, reinforced',
  FRONT: 'FRONT, for the front wheel only',
  REAR: 'REAR, for the rear wheel only',
  'M+S': 'M+S, mud and snow',
  NHS: 'NHS, not for use on the road',
}

function alsoSays(word: string): string {
  return alsoMeans[word] ?? word
}
