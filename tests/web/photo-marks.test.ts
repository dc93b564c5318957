import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type MarkShape, marksInWords, pathOf } from '../../app/_ui/marked-photo'
import { fitted } from '../../app/_ui/shrink-photo'
import {
  drawn,
  inTheMiddle,
  moved,
  placeIn,
  resized,
  turned,
} from '../../app/(shop)/bikes/[bike]/photos/marks/drawing'
import { mostMarks, photoMark, sentMarks, storedMarks } from '../../lib/shop/photo-marks'

const size = { width: 2400, height: 1600 }
const circle: MarkShape = { kind: 'circle', x: 0.25, y: 0.5, radius: 0.1 }
const arrow: MarkShape = { kind: 'arrow', fromX: 0.2, fromY: 0.2, toX: 0.5, toY: 0.5 }

describe('marks that are sent', () => {
  it.each([
    ['as they are', [circle, arrow]],
    ['as text', JSON.stringify([circle, arrow])],
  ])('are read %s', (_title, sent) => {
    expect(sentMarks.parse(sent)).toEqual([circle, arrow])
  })

  it.each([
    ['no JSON', 'circles'],
    ['no list', '{}'],
    ['a shape nobody draws', [{ kind: 'star', x: 0.5, y: 0.5 }]],
    ['a place outside the picture', [{ ...circle, x: 1.2 }]],
    ['a place that is no number', [{ ...circle, x: '0.5' }]],
    ['something beside the shape', [{ ...circle, href: 'javascript:x' }]],
    ['no size', [{ ...circle, radius: 0 }]],
  ])('with %s are refused in words', (_title, sent) => {
    const [issue] = sentMarks.safeParse(sent).error?.issues ?? []
    expect(issue?.message).toBe('This drawing cannot be read. Load the page again and draw it anew.')
    expect(issue?.path).toEqual([])
  })

  it('are at most twenty', () => {
    const many = (count: number) => Array.from({ length: count }, () => circle)
    expect(sentMarks.parse(many(mostMarks))).toHaveLength(20)
    expect(sentMarks.safeParse(many(mostMarks + 1)).error?.issues[0]?.message).toBe('Draw at most 20 marks.')
    expect(sentMarks.safeParse(JSON.stringify(many(21))).error?.issues[0]?.message).toBe(
      'Draw at most 20 marks.',
    )
  })

  it('come back as they were stored; what cannot be read shows none', () => {
    expect(storedMarks(JSON.stringify([circle]))).toEqual([circle])
    expect(storedMarks('[{"kind":"star"}]')).toEqual([])
    expect(storedMarks('')).toEqual([])
  })
})

describe('drawing by taps', () => {
  it('an arrow goes from the first tap to the second', () => {
    expect(drawn('arrow', { x: 0.2, y: 0.2 }, { x: 0.5, y: 0.5 }, size)).toEqual(arrow)
  })

  it('a circle has its middle at the first tap and goes through the second, whichever way that lies', () => {
    expect(drawn('circle', { x: 0.25, y: 0.5 }, { x: 0.35, y: 0.5 }, size)).toEqual(circle)
    // 0.15 of a height of 1,600 are the same 240 pixels as 0.1 of a width of 2,400.
    expect(drawn('circle', { x: 0.25, y: 0.5 }, { x: 0.25, y: 0.65 }, size)).toEqual(circle)
  })

  it('a tap is where it is on the picture, also where that does not fill its box', () => {
    // 2,400 by 1,600 in a box of 300 by 300 is shown 300 by 200, with 50 free above and below.
    const box = { left: 10, top: 20, width: 300, height: 300 }
    expect(placeIn(box, size, { x: 10, y: 70 })).toEqual({ x: 0, y: 0 })
    expect(placeIn(box, size, { x: 160, y: 170 })).toEqual({ x: 0.5, y: 0.5 })
    expect(placeIn(box, size, { x: 310, y: 270 })).toEqual({ x: 1, y: 1 })
  })

  it('two taps on one place make a circle that can be seen', () => {
    expect(drawn('circle', { x: 0.5, y: 0.5 }, { x: 0.5, y: 0.5 }, size)).toMatchObject({ radius: 0.02 })
  })

  const place = fc.record({
    x: fc.double({ min: -0.2, max: 1.2, noNaN: true }),
    y: fc.double({ min: -0.2, max: 1.2, noNaN: true }),
  })
  const tool = fc.constantFrom('arrow' as const, 'circle' as const)
  const doing = fc.array(
    fc.oneof(
      place.map(
        ({ x, y }) =>
          (mark: MarkShape) =>
            moved(mark, { x: x - 0.5, y: y - 0.5 }),
      ),
      fc.double({ min: 0.3, max: 3, noNaN: true }).map((by) => (mark: MarkShape) => resized(mark, by)),
      fc.constant((mark: MarkShape) => turned(mark, size)),
    ),
    { maxLength: 12 },
  )

  it('whatever is tapped, moved, sized and turned, the server takes it', () => {
    fc.assert(
      fc.property(tool, place, place, doing, (kind, from, to, then) => {
        const marks = [drawn(kind, from, to, size), inTheMiddle(kind)].map((mark) =>
          then.reduce((now, change) => change(now), mark),
        )
        for (const mark of marks) expect(photoMark.safeParse(mark).success).toBe(true)
      }),
      { numRuns: 200 },
    )
  })

  it('a moved arrow keeps its length and its way, also at the edge', () => {
    expect(moved(arrow, { x: 0.9, y: -0.9 })).toEqual({
      kind: 'arrow',
      fromX: 0.7,
      fromY: 0,
      toX: 1,
      toY: 0.3,
    })
  })

  it('an arrow turns about what it points at, and is back after a full turn', () => {
    const turns = Array.from({ length: 8 }).reduce<MarkShape>(
      (now) => turned(now, size),
      inTheMiddle('arrow'),
    )
    const { fromX, fromY, toX, toY } = turns as Extract<MarkShape, { kind: 'arrow' }>
    expect([toX, toY]).toEqual([0.5, 0.5])
    expect(Math.abs(fromX - 0.3)).toBeLessThan(0.01)
    expect(Math.abs(fromY - 0.7)).toBeLessThan(0.01)
  })
})

describe('marks as they are seen', () => {
  it('a circle is round on a picture of any shape', () => {
    expect(pathOf(circle, size)).toBe('M360 800a240 240 0 1 0 480 0a240 240 0 1 0 -480 0')
    expect(pathOf(circle, { width: 1000, height: 3000 })).toBe(
      'M150 1500a100 100 0 1 0 200 0a100 100 0 1 0 -200 0',
    )
  })

  it('an arrow ends in two wings at what it points at', () => {
    const path = pathOf(arrow, size)
    expect(path.startsWith('M480 320L1200 800')).toBe(true)
    expect(path.match(/M1200 800L/g)).toHaveLength(2)
  })

  it.each([
    [[], ''],
    [[arrow], '1 arrow'],
    [[circle, arrow, circle], '1 arrow, 2 circles'],
  ])('%# are said in words', (marks, words) => {
    expect(marksInWords(marks)).toBe(words)
  })

  it.each([
    [
      { width: 4000, height: 3000 },
      { width: 2400, height: 1800 },
    ],
    [
      { width: 3000, height: 4000 },
      { width: 1800, height: 2400 },
    ],
    [
      { width: 2400, height: 10 },
      { width: 2400, height: 10 },
    ],
    [
      { width: 10_000, height: 1 },
      { width: 2400, height: 1 },
    ],
  ])('%j is made %j before it is sent', (from, to) => {
    expect(fitted(from)).toEqual(to)
  })
})
