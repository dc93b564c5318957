import { createElement, type ReactNode } from 'react'
import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, it } from 'vitest'
import { Field } from '../../app/_ui/field'
import { FormContext } from '../../app/_ui/form-context'
import { LimitScale, type LimitScaleProps } from '../../app/_ui/limit-scale'
import { CallMark, StageMark, VerdictMark } from '../../app/_ui/marks'
import { MoneySteps } from '../../app/_ui/money-steps'
import { QrCode } from '../../app/_ui/qr-code'
import { SpreadLine, SpreadStrip } from '../../app/_ui/spread-strip'
import { Word } from '../../app/_ui/word'
import { type WordName, words } from '../../app/_ui/words'
import { calls } from '../../lib/core/checks/catalogue'
import { verdicts } from '../../lib/core/checks/judge'
import { stages } from '../../lib/shop/stage-names'
import { emptyForm } from '../../lib/web/form-state'

const drawn = (node: ReactNode) => renderToStaticMarkup(node).replaceAll('\u00a0', ' ')
const shapeOf = (markup: string) => /<svg.*<\/svg>/s.exec(markup)?.[0]
const wordOf = (markup: string) => markup.replace(/<[^>]*>/g, '')

const discs: LimitScaleProps = {
  title: 'Front disc',
  unit: 'mm',
  min: 4.5,
  asNew: 5,
  saleMin: 4.6,
  readings: [{ value: 4.52, plusMinus: 0.04, label: 'left' }],
}
const spread = {
  low: -2000,
  middle: 3000,
  high: 9000,
  shape: [-4000, 3000, 12000].map((x, y) => ({ x, y: y % 2 })),
}
const steps = [
  { label: 'Sale price', minor: 235000, part: 'start' },
  { label: 'Paid', minor: 240000, part: 'less' },
  { label: 'Margin', minor: -5000, part: 'result' },
] as const

describe('the pieces of screen', () => {
  it.each([
    ['verdicts', verdicts.map((verdict) => drawn(createElement(VerdictMark, { verdict })))],
    ['calls', calls.map((call) => drawn(createElement(CallMark, { call })))],
  ])('all %s differ by word and by shape, so that colour is not needed', (_, marks) => {
    expect(new Set(marks.map(wordOf)).size).toBe(marks.length)
    expect(new Set(marks.map(shapeOf)).size).toBe(marks.length)
  })

  it('every stage is told in words', () => {
    const said = stages.map((stage) => wordOf(drawn(createElement(StageMark, { stage }))).toLowerCase())
    expect(said).toEqual([...stages])
  })

  it('a scale says in one sentence what it draws', () => {
    expect(drawn(createElement(LimitScale, discs))).toContain(
      'aria-label="Front disc, in mm: read left 4.52 give or take 0.04; least 4.5; sale line 4.6; new 5."',
    )
    const unread = createElement(LimitScale, { ...discs, readings: [] })
    expect(drawn(unread)).toContain('no reading yet')
  })

  it('a spread says in one sentence what it draws', () => {
    const line = drawn(createElement(SpreadLine, { title: 'Margin', spread, zero: true }))
    expect(line).toContain('Margin: middle 3,000; eight times in ten between −2,000 and 9,000.')
  })

  it('money steps carry every amount as text, rounded to tens', () => {
    const text = wordOf(drawn(createElement(MoneySteps, { steps, currency: 'GBP', caption: 'Deal' })))
    for (const amount of ['£2,350', '−£2,400', '−£50']) expect(text).toContain(amount)
  })

  it('steps round what is estimated to the tens and leave a known amount as it is', () => {
    const paid = [
      { label: 'Sale price', minor: 235400, part: 'start' },
      { label: 'Paid', minor: 143725, part: 'less', exact: true },
    ] as const
    const text = wordOf(drawn(createElement(MoneySteps, { steps: paid, currency: 'GBP', caption: 'Deal' })))
    for (const amount of ['£2,350', '−£1,437.25']) expect(text).toContain(amount)
  })

  it('a field shows what is stored now only where it is not what was typed', () => {
    const state = { ...emptyForm, typed: { low: '7', high: '60' }, theirs: { low: '7', high: '45' }, turn: 1 }
    const field = (name: string) =>
      drawn(
        createElement(
          FormContext,
          { value: { prefix: 'f', state } },
          createElement(Field, { name, label: 'Days', defaultValue: '1' }),
        ),
      )
    expect(field('low')).not.toContain('Stored now')
    expect(field('high')).toContain('Stored now')
    expect(wordOf(field('high'))).toContain('45')
    expect(field('high')).toContain('value="60"')
    expect(field('high')).toContain('aria-describedby="f-high-theirs"')
  })

  it('every word of the tool explains itself', () => {
    for (const name of Object.keys(words) as WordName[]) {
      expect(drawn(createElement(Word, { name }))).toContain('popover')
      expect(words[name].says).toMatch(/\.$/)
    }
  })

  it('none needs an inline style, which the content policy would refuse', () => {
    const all = [
      drawn(createElement(LimitScale, discs)),
      drawn(createElement(SpreadStrip, { title: 'Margin', spread, zero: true })),
      drawn(createElement(SpreadLine, { title: 'Margin', spread, domain: [0, 1] })),
      drawn(createElement(MoneySteps, { steps, currency: 'GBP', caption: 'Deal' })),
      drawn(createElement(QrCode, { text: 'http://192.0.2.1:3000', label: 'address' })),
      drawn(createElement(Word, { name: 'margin' })),
      ...stages.map((stage) => drawn(createElement(StageMark, { stage }))),
    ]
    for (const markup of all) expect(markup).not.toMatch(/\sstyle=|<style|<script/)
  })
})
