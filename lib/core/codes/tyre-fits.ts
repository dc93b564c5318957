import type { TyreSize } from './tyre-size'

/** One thing that a tyre is asked for, and whether the one that is fitted has it. */
export type TyrePoint = {
  point: 'width' | 'ratio' | 'rim' | 'build' | 'load' | 'speed'
  /** `not-told` where one of the two markings leaves it open. */
  stands: 'kept' | 'broken' | 'not-told'
  /** One plain sentence. */
  says: string
}

/**
 * The tyre that is fitted against the one a model's sheet asks for: the same size and build, at least the load and
 * at least the speed. Sizes count by the millimetre, so MT90 is 130/90.
 */
export function tyreFits(tyres: { fitted: TyreSize; asked: TyreSize }): TyrePoint[] {
  return [...sizePoints(tyres), loadPoint(tyres), speedPoint(tyres)]
}

type Both = { fitted: TyreSize; asked: TyreSize }

function sizePoints({ fitted, asked }: Both): TyrePoint[] {
  const same = (point: TyrePoint['point'], of: (tyre: TyreSize) => number | string, unit = ''): TyrePoint => {
    const [has, wants] = [of(fitted), of(asked)]
    return has === wants
      ? { point, stands: 'kept', says: `The ${point} is the one asked for, ${has}${unit}.` }
      : { point, stands: 'broken', says: `The ${point} is ${has}${unit}, ${wants}${unit} is asked for.` }
  }
  return [
    same('width', ({ widthMm }) => Math.round(widthMm * 10) / 10, ' mm'),
    fitted.aspectFrom === asked.aspectFrom
      ? same('ratio', ({ aspectPercent }) => aspectPercent, ' %')
      : { point: 'ratio', stands: 'not-told', says: 'Only one of the two tells a ratio.' },
    same('rim', ({ rimIn }) => rimIn, ' in'),
    same('build', ({ construction }) => construction),
  ]
}

function loadPoint({ fitted, asked }: Both): TyrePoint {
  if (!fitted.load || !asked.load)
    return { point: 'load', stands: 'not-told', says: 'A load index is not marked on both.' }
  const told = `${fitted.load.kg} kg, ${asked.load.kg} kg is asked for`
  return fitted.load.index >= asked.load.index
    ? { point: 'load', stands: 'kept', says: `It carries ${told}.` }
    : { point: 'load', stands: 'broken', says: `It carries only ${told}.` }
}

function speedPoint({ fitted, asked }: Both): TyrePoint {
  if (!fitted.speed || !asked.speed)
    return { point: 'speed', stands: 'not-told', says: 'A speed symbol is not marked on both.' }
  const told = `${speedTold(fitted.speed)}, ${speedTold(asked.speed)} is asked for`
  return rankOf(fitted.speed) >= rankOf(asked.speed)
    ? { point: 'speed', stands: 'kept', says: `It is made for ${told}.` }
    : { point: 'speed', stands: 'broken', says: `It is made only for ${told}.` }
}

type Speed = NonNullable<TyreSize['speed']>

/** More than 240 km/h is more than up to 240, and less than up to 270: the symbols are whole tens apart. */
function rankOf({ kmh, bound }: Speed): number {
  return bound === 'over' ? kmh + 1 : kmh
}

function speedTold({ kmh, bound }: Speed): string {
  return bound === 'over' ? `more than ${kmh} km/h` : `${kmh} km/h`
}
