import type { MarkShape } from '../../../../../_ui/marked-photo'

/*
 * Drawing by taps: the first says where a mark begins, the second where it ends. Everything is done by buttons as well:
 * a mark put into the middle is then moved and made larger step by step.
 */

export type Point = { x: number; y: number }
export type Tool = MarkShape['kind']

/** One step of a nudge: two parts in a hundred of the picture. */
export const step = 0.02

const within = (value: number, least = 0, most = 1) =>
  Math.round(Math.min(most, Math.max(least, value)) * 1000) / 1000

type Box = { left: number; top: number; width: number; height: number }

/** Where on the picture a tap is, in parts of it. The picture is shown whole, in the middle of its box. */
export function placeIn(box: Box, { width, height }: { width: number; height: number }, tap: Point): Point {
  const scale = Math.min(box.width / width, box.height / height)
  const [shownWidth, shownHeight] = [width * scale, height * scale]
  return {
    x: (tap.x - box.left - (box.width - shownWidth) / 2) / shownWidth,
    y: (tap.y - box.top - (box.height - shownHeight) / 2) / shownHeight,
  }
}

/** The mark between two taps. A circle has its middle at the first and goes through the second. */
export function drawn(
  tool: Tool,
  from: Point,
  to: Point,
  { width, height }: { width: number; height: number },
): MarkShape {
  if (tool === 'arrow') {
    return {
      kind: 'arrow',
      fromX: within(from.x),
      fromY: within(from.y),
      toX: within(to.x),
      toY: within(to.y),
    }
  }
  // The radius is told in parts of the width, whatever way it lies.
  const radius = Math.hypot(to.x - from.x, ((to.y - from.y) * height) / width)
  return { kind: 'circle', x: within(from.x), y: within(from.y), radius: within(radius, 0.02, 0.5) }
}

export function inTheMiddle(tool: Tool): MarkShape {
  return tool === 'arrow'
    ? { kind: 'arrow', fromX: 0.3, fromY: 0.7, toX: 0.5, toY: 0.5 }
    : { kind: 'circle', x: 0.5, y: 0.5, radius: 0.1 }
}

/** Moves a mark; an arrow keeps its length and stops at the edge. */
export function moved(mark: MarkShape, by: Point): MarkShape {
  if (mark.kind === 'circle') return { ...mark, x: within(mark.x + by.x), y: within(mark.y + by.y) }
  const kept = (change: number, a: number, b: number) =>
    Math.min(1 - Math.max(a, b), Math.max(-Math.min(a, b), change))
  const [x, y] = [kept(by.x, mark.fromX, mark.toX), kept(by.y, mark.fromY, mark.toY)]
  return {
    ...mark,
    ...{ fromX: within(mark.fromX + x), toX: within(mark.toX + x) },
    ...{ fromY: within(mark.fromY + y), toY: within(mark.toY + y) },
  }
}

/** Makes a circle wider or an arrow longer, from its tip backwards. */
export function resized(mark: MarkShape, by: number): MarkShape {
  if (mark.kind === 'circle') return { ...mark, radius: within(mark.radius * by, 0.02, 0.5) }
  return {
    ...mark,
    fromX: within(mark.toX + (mark.fromX - mark.toX) * by),
    fromY: within(mark.toY + (mark.fromY - mark.toY) * by),
  }
}

/** Turns an arrow about its tip by an eighth of a full turn, as it looks on the picture. */
export function turned(mark: MarkShape, { width, height }: { width: number; height: number }): MarkShape {
  if (mark.kind === 'circle') return mark
  const [x, y] = [(mark.fromX - mark.toX) * width, (mark.fromY - mark.toY) * height]
  const [cos, sin] = [Math.SQRT1_2, Math.SQRT1_2]
  return {
    ...mark,
    fromX: within(mark.toX + (x * cos - y * sin) / width),
    fromY: within(mark.toY + (x * sin + y * cos) / height),
  }
}
