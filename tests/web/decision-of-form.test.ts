import { describe, expect, it } from 'vitest'
import { decisionOfForm, usualAsSent } from '../../app/(shop)/bikes/[bike]/work/decision-of-form'

const usual = {
  hours: { low: 2, likely: 2.5, high: 4 },
  parts: [{ name: 'Kit', qty: 1, unitCost: { low: 3800, likely: 4850, high: 6500 } }],
  outsideWork: 0,
}

/** The form of a job as it is drawn, some fields typed over. */
function sent(typed: Record<string, string> = {}): FormData {
  const fields: Record<string, string> = {
    bike: 'b',
    'decision.kind': 'change-job',
    'decision.hours.low': '2',
    'decision.hours.likely': '2.5',
    'decision.hours.high': '4',
    'decision.parts.0.name': 'Kit',
    'decision.parts.0.qty': '1',
    'decision.parts.0.unitCost.low': '38',
    'decision.parts.0.unitCost.likely': '48.50',
    'decision.parts.0.unitCost.high': '65',
    'decision.parts.1.name': '',
    'decision.parts.1.qty': '1',
    'decision.parts.1.unitCost.low': '0',
    'decision.parts.1.unitCost.likely': '0',
    'decision.parts.1.unitCost.high': '0',
    'decision.outsideWork.low': '0',
    'decision.outsideWork.likely': '0',
    'decision.outsideWork.high': '0',
    ...Object.fromEntries(usualAsSent(usual).map(({ name, value }) => [name, value])),
    ...typed,
  }
  const form = new FormData()
  for (const [name, value] of Object.entries(fields)) form.append(name, value)
  return form
}

describe('a change to a job on one bike', () => {
  it('holds nothing where nothing was typed over', () => {
    expect(decisionOfForm(sent())).toEqual({ bike: 'b', decision: { kind: 'change-job' } })
  })

  it.each([
    ['decision.hours.high', '5', 'hours'],
    ['decision.parts.0.unitCost.likely', '52', 'parts'],
    ['decision.parts.1.name', 'Strainer', 'parts'],
    ['decision.outsideWork.likely', '20', 'outsideWork'],
  ])('holds only the figures that differ from every other bike: %s', (name, value, figure) => {
    const { decision } = decisionOfForm(sent({ [name]: value })) as { decision: object }
    expect(Object.keys(decision)).toEqual(['kind', figure])
  })

  it('leaves a decision without usual figures as it was sent', () => {
    const form = new FormData()
    for (const [name, value] of [
      ['bike', 'b'],
      ['decision.kind', 'drop-job'],
      ['decision.reason', 'not worth it'],
    ] as const) {
      form.append(name, value)
    }
    expect(decisionOfForm(form)).toEqual({
      bike: 'b',
      decision: { kind: 'drop-job', reason: 'not worth it' },
    })
  })
})
