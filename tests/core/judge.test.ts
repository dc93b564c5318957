import { describe, expect, it } from 'vitest'
import { judge } from '../../lib/core/checks/judge'
import type { EnteredLimit } from '../../lib/core/checks/limits'
import { parseTyped, type Reading, standing } from '../../lib/core/checks/reading'
import { anyBike, calliper, checkOf, micrometer } from '../support/small-catalogue'
import { ages, around, asOf, reading, stamped } from '../support/small-readings'

function judged(check: string, readings: readonly Reading[], limits: readonly EnteredLimit[] = []) {
  return judge({ check: checkOf(check), readings, limits, kind: anyBike, asOf, ages })
}

/** Narrows a verdict to one kind, and fails the test where it is another. */
function as<V extends ReturnType<typeof judge>['verdict']>(
  judgement: ReturnType<typeof judge>,
  verdict: V,
): Extract<ReturnType<typeof judge>, { verdict: V }> {
  expect(judgement.verdict).toBe(verdict)
  return judgement as Extract<ReturnType<typeof judge>, { verdict: V }>
}

const limits = [stamped('disc-left', 4.5, { saleMin: 4.7 }), stamped('disc-right', 4.5, { saleMin: 4.7 })]

describe('two front discs stamped 4.5 mm', () => {
  it('at 4.52 mm all round a calliper cannot say whether the disc keeps its limit', () => {
    const close = as(
      judged('disc-left', around('disc-left', [4.52, 4.52, 4.52, 4.52], calliper), limits),
      'too-close',
    )
    // By hand: u = √((0.05/2)²/3 + 0.02²) = 0.02466, (4.52 − 4.5)/u = 0.811, Φ(0.811) = 0.791 (normal table).
    expect(close.conformanceProbability).toBeCloseTo(0.791, 3)
    expect(close.says).toBe(
      "Place a: 4.52 mm is too close to the limit of at least 4.5 mm (stamped on the disc) to call with this instrument: the chance that the limit is kept is 79 %. It is under the shop's sale line of 4.7 mm.",
    )
  })

  it('the same with a micrometer is within, and under the sale line of the shop', () => {
    const within = as(
      judged('disc-left', around('disc-left', [4.52, 4.52, 4.52, 4.52], micrometer), limits),
      'within',
    )
    expect(within.belowSaleLine).toBe(true)
    expect(within.says).toBe(
      "Place a: 4.52 mm keeps the limit of at least 4.5 mm (stamped on the disc). It is under the shop's sale line of 4.7 mm.",
    )
  })

  it('a micrometer fetched after the calliper is what counts, not the mean of both', () => {
    const coarse = around('disc-left', [4.47, 4.5, 4.5, 4.5], calliper)
    const fine = around('disc-left', [4.52, 4.52, 4.52, 4.52], micrometer)
    const within = as(judged('disc-left', [...coarse, ...fine], limits), 'within')
    expect(within.readings).toEqual(fine.map(({ id }) => id))
  })

  it('four readings with one under the limit are outside and name the place', () => {
    const outside = as(
      judged('disc-right', around('disc-right', [4.61, 4.49, 4.46, 4.5], micrometer), limits),
      'outside',
    )
    expect(outside.found).toMatchObject({ value: 4.46, worstPosition: 'c', missing: [] })
    expect(outside.says).toBe('Place c: 4.46 mm is under the limit of at least 4.5 mm (stamped on the disc).')
  })

  it('the first of four alone is not judged and says how many lack', () => {
    const few = as(judged('disc-right', around('disc-right', [4.61], micrometer), limits), 'not-judged')
    expect(few.why).toBe('too-few')
    expect(few.found).toMatchObject({ missing: ['Place b', 'Place c', 'Place d'] })
    expect(few.says).toMatch(/^1 of 4 positions read\. Place a: 4\.61 mm keeps the limit/)
  })

  it('one place under the limit is enough to be outside', () => {
    const one = around('disc-right', [4.46], micrometer)
    expect(judged('disc-right', one, limits).verdict).toBe('outside')
  })

  it('without a limit nothing is judged', () => {
    const open = as(judged('disc-left', around('disc-left', [4.5, 4.5, 4.5, 4.5], micrometer)), 'not-judged')
    expect(open.why).toBe('no-limit')
  })

  it('a reading without a named instrument is taken as one of the coarsest, so it is not passed too easily', () => {
    const unnamed = around('disc-left', [4.52, 4.52, 4.52, 4.52], calliper).map((r) => ({
      ...r,
      instrument: null,
    }))
    expect(judged('disc-left', unnamed, limits).verdict).toBe('too-close')
  })

  it('a limit for one place judges that place alone', () => {
    const more = [...limits, stamped('disc-left', 4.8, { id: 'b-only', position: 'b' })]
    const outside = as(
      judged('disc-left', around('disc-left', [4.75, 4.75, 4.75, 4.75], micrometer), more),
      'outside',
    )
    expect(outside.found).toMatchObject({ worstPosition: 'b', limit: { min: { value: 4.8 } } })
  })

  it('readings in inches are judged by a limit in millimetres', () => {
    // 0.177 in × 25.4 = 4.4958 mm.
    const inInches = around('disc-left', [0.177, 0.18, 0.18, 0.18], micrometer).map((r) => ({
      ...r,
      unit: 'in' as const,
    }))
    const outside = as(judged('disc-left', inInches, limits), 'outside')
    expect(outside.found).toMatchObject({ unit: 'mm', value: expect.closeTo(4.4958, 10) })
  })

  it('a reading that names no place of the check does not stand for one', () => {
    const loose = [
      ...around('disc-left', [4.9, 4.9, 4.9], micrometer),
      reading('disc-left', 4.9, { instrument: micrometer }),
    ]
    expect(as(judged('disc-left', loose, limits), 'not-judged').why).toBe('too-few')
    const low = [...loose, reading('disc-left', 4.2, { instrument: micrometer })]
    expect(judged('disc-left', low, limits).verdict).toBe('outside')
  })
})

describe('a check with a single place', () => {
  const check = checkOf('charging')
  it('needs no place named', () => {
    if (check.sort !== 'measured') throw new Error('measured check expected')
    const posts = { ...check, positions: [{ key: 'posts', label: 'Across the posts' }] }
    const within = judge({
      check: posts,
      readings: [reading('charging', 14.2)],
      limits: [],
      kind: anyBike,
      asOf,
      ages,
    })
    expect(within).toMatchObject({ verdict: 'within', found: { worstPosition: 'posts', missing: [] } })
  })
})

describe('which readings count', () => {
  const ready = { conditions: ['rested', 'off'] as const }

  it('a correction supersedes, and a correction of the correction too', () => {
    const first = reading('battery', 11.0, ready)
    const second = reading('battery', 12.1, { ...ready, supersedes: first.id })
    const third = reading('battery', 12.7, { ...ready, supersedes: second.id })
    const within = as(judged('battery', [third, first, second]), 'within')
    expect(within.readings).toEqual([third.id])
    expect(standing([first, second, third])).toEqual([third])
  })

  it('taken again is averaged', () => {
    const twice = [reading('battery', 12.2, ready), reading('battery', 12.7, ready)]
    expect(as(judged('battery', twice), 'within').found).toMatchObject({ value: expect.closeTo(12.45, 12) })
  })

  it('of answers the latest counts, whatever order they arrive in', () => {
    const early = reading('fuel', 'wet')
    const late = reading('fuel', 'dry')
    expect(judged('fuel', [late, early]).verdict).toBe('within')
  })

  it('at the same instant the later id counts', () => {
    const takenAt = '2026-11-25T09:00:00.000Z'
    const a = reading('fuel', 'wet', { id: 'a', takenAt })
    const b = reading('fuel', 'dry', { id: 'b', takenAt })
    expect(judged('fuel', [b, a]).verdict).toBe('within')
    expect(judged('fuel', [{ ...b, id: '0' }, a]).verdict).toBe('outside')
  })

  it('a skip after an answer is not checked, with its reason', () => {
    const skipped = [reading('fuel', 'dry'), reading('fuel', 'no torch', { kind: 'skipped' })]
    const open = as(judged('fuel', skipped), 'not-checked')
    expect(open.because).toBe('no torch')
    expect(open.says).toBe('Not checked: no torch')
  })

  it('an answer after a skip counts', () => {
    const done = [reading('fuel', 'no torch', { kind: 'skipped' }), reading('fuel', 'dry')]
    expect(judged('fuel', done).verdict).toBe('within')
  })

  it('a skip of one place leaves the others', () => {
    const three = around('disc-left', [4.9, 4.9, 4.9, 4.9], micrometer)
    const skip = reading('disc-left', 'caliper in the way', { kind: 'skipped', position: 'b' })
    const few = as(judged('disc-left', [...three, skip], limits), 'not-judged')
    expect(few.found).toMatchObject({ missing: ['Place b'] })
  })

  it('a reading taken in the wrong condition is kept and not judged', () => {
    const wrong = as(judged('battery', [reading('battery', 11, { conditions: ['off'] })]), 'not-judged')
    expect(wrong).toMatchObject({ why: 'wrong-condition', needs: ['rested'], found: { value: 11 } })
    expect(wrong.says).toBe('11 V is kept and not judged: it has to be taken after a rest.')
  })

  it('a reading in the right condition counts beside one in the wrong', () => {
    const right = reading('battery', 12.6, ready)
    const within = as(judged('battery', [right, reading('battery', 11)]), 'within')
    expect(within.readings).toEqual([right.id])
  })

  it('without readings the check is not checked, and on another kind of bike it does not apply', () => {
    expect(judged('chain', [])).toMatchObject({ verdict: 'not-checked', because: null })
    const shaft = { ...anyBike, finalDrive: 'shaft' } as const
    const asked = { check: checkOf('chain'), readings: [reading('chain', 'worn')], limits: [], asOf, ages }
    expect(judge({ ...asked, kind: shaft }).verdict).toBe('does-not-apply')
  })
})

describe('looks and numbers', () => {
  it('the tone of the answer is the verdict', () => {
    expect(judged('tank', [reading('tank', 'good')])).toMatchObject({ verdict: 'within', noted: false })
    expect(judged('tank', [reading('tank', 'film')])).toMatchObject({ verdict: 'within', noted: true })
    expect(judged('tank', [reading('tank', 'bad')])).toMatchObject({ verdict: 'outside', says: 'Bad.' })
  })

  it('an answer that the check no longer has is not judged', () => {
    expect(judged('tank', [reading('tank', 'rusty')])).toMatchObject({
      verdict: 'not-judged',
      why: 'unreadable',
    })
  })

  it('a number is judged where something is raised by it, and noted otherwise', () => {
    expect(judged('keys', [reading('keys', 1)])).toMatchObject({
      verdict: 'outside',
      says: 'Keys: 1, under 2.',
    })
    expect(judged('keys', [reading('keys', 2)]).verdict).toBe('within')
    expect(judged('distance', [reading('distance', 41200)])).toMatchObject({
      verdict: 'not-judged',
      why: 'no-limit',
    })
  })
})

describe('limits from several sources', () => {
  const practice = 'battery'
  const entered = (scope: EnteredLimit['scope'], min: number): EnteredLimit =>
    stamped(practice, min, {
      id: `${scope}-${min}`,
      scope,
      unit: 'V',
      source: { kind: 'maker', says: scope },
    })

  const at = (value: number) => [reading(practice, value, { conditions: ['rested', 'off'] })]
  const boundOf = (entered: EnteredLimit[]) => {
    const judgement = judged(practice, at(12.45), entered)
    if (!('found' in judgement) || judgement.found?.sort !== 'measured') throw new Error('no value found')
    return judgement.found.limit?.min
  }

  it.each([
    ['common practice stands where nobody entered a limit', [], 12.4, 'general'],
    ['a model limit takes its place although it is wider', [entered('model', 12.2)], 12.2, 'model'],
    ['so does one for the whole shop', [entered('shop', 12.3)], 12.3, 'shop'],
    ['of model and shop the narrowest wins', [entered('model', 12.2), entered('shop', 12.5)], 12.5, 'shop'],
    ['in any order', [entered('shop', 12.5), entered('model', 12.2), entered('bike', 12.1)], 12.5, 'shop'],
  ])('%s', (_, limits, value, scope) => {
    expect(boundOf(limits)).toMatchObject({ value, scope })
  })

  it('a limit of the law is not widened by what anybody enters', () => {
    const check = checkOf(practice)
    if (check.sort !== 'measured') throw new Error('measured check expected')
    const lawful = {
      ...check,
      limit: { min: 12.4, unit: 'V', source: { kind: 'law', says: 'the law' } },
    } as const
    const asked = { readings: at(12.3), limits: [entered('bike', 12.0)], kind: anyBike, asOf, ages }
    expect(judge({ ...asked, check: lawful }).verdict).toBe('outside')
  })
})

describe('what was typed', () => {
  const disc = checkOf('disc-left')
  it.each([
    ['4.52', null, { ok: true, kind: 'measured', value: 4.52, unit: 'mm' }],
    ['4,52', null, { ok: true, kind: 'measured', value: 4.52, unit: 'mm' }],
    [' .178 ', 'in', { ok: true, kind: 'measured', value: 0.178, unit: 'in' }],
    ['5.7', 'in32', { ok: true, kind: 'measured', value: 5.7, unit: 'in32' }],
  ] as const)('%s %s is a thickness', (value, unit, expected) => {
    expect(parseTyped({ check: disc, value, unit })).toEqual(expected)
  })

  it.each([
    ['', null, 'Nothing was typed.'],
    ['4.5.2', null, '"4.5.2" is not a number. Write it like 4.52 or 4,52.'],
    ['1e1', null, '"1e1" is not a number. Write it like 4.52 or 4,52.'],
    ['452', null, '452 mm cannot be right here: 1 to 15 mm is possible. Check the figure and its unit.'],
    ['4.5', 'V', 'Disc thickness, left is measured in mm, in, not in V.'],
  ] as const)('%s %s is refused with what to do', (value, unit, problem) => {
    expect(parseTyped({ check: disc, value, unit })).toEqual({ ok: false, problem })
  })

  it('a distance with a separator is asked for again, not guessed', () => {
    const typed = parseTyped({ check: checkOf('distance'), value: '41,200', unit: null })
    expect(typed).toEqual({ ok: false, problem: 'Write 41200 without a separator, if that is meant.' })
  })
})
