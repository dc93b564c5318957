import { createElement } from 'react'
import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, it, test } from 'vitest'
import { DateSheet } from '../../app/(shop)/tyres/date-sheet'
import { FitSheet } from '../../app/(shop)/tyres/fit-sheet'
import { SizeSheet } from '../../app/(shop)/tyres/size-sheet'
import { TyreForm } from '../../app/(shop)/tyres/tyre-form'
import { sectionSays, TyreSection } from '../../app/(shop)/tyres/tyre-section'
import { tyreFits } from '../../lib/core/codes/tyre-fits'
import { tyreSize } from '../../lib/core/codes/tyre-size'

const drawn = (node: React.ReactNode) => renderToStaticMarkup(node).replaceAll('\u00a0', ' ')
const wordsOf = (markup: string) => markup.replace(/<[^>]*>/g, ' ').replace(/\s+/g, ' ')

describe('the picture of a tyre', () => {
  const markings = ['190/50 ZR17 M/C (73W)', '3.50-18 56P', 'MT90B16', '60/100-17', '360/30 R18']

  test.each(markings)('of %s stays inside its field and says its figures', (marking) => {
    const size = tyreSize({ marking })
    const markup = drawn(createElement(TyreSection, { size }))
    const [, width = 0, height = 0] = (/viewBox="0 0 (\d+) (\d+)"/.exec(markup) ?? []).map(Number)
    const places = (name: string) =>
      [...markup.matchAll(new RegExp(` ${name}="([\\d.-]+)"`, 'g'))].map((m) => Number(m[1]))
    for (const x of ['x', 'x1', 'x2', 'cx'].flatMap(places)) {
      expect(x).toBeGreaterThan(0)
      expect(x).toBeLessThan(width)
    }
    for (const y of ['y', 'y1', 'y2', 'cy'].flatMap(places)) {
      expect(y).toBeGreaterThan(0)
      expect(y).toBeLessThan(height)
    }
    expect(markup).not.toContain('style=')
    expect(wordsOf(markup)).toContain(`${size.rimIn} in`)
  })

  it('can be heard', () => {
    expect(sectionSays(tyreSize({ marking: '190/50 ZR17' })).replaceAll('\u00a0', ' ')).toBe(
      'A wheel from the side and from the front: 190 mm wide, side wall 95 mm, rim 17 inches, 622 mm over all.',
    )
  })
})

it('the sheet tells load, speed, build and what is open, in words', () => {
  const words = wordsOf(
    drawn(createElement(SizeSheet, { size: tyreSize({ marking: '190/50 ZR17 M/C (73W) TL' }) })),
  )
  expect(words).toContain('73: up to 365 kg')
  expect(words).toContain('W: more than 270 km/h (168 mph)')
  expect(words).toContain('Radial')
  expect(words).toContain('TL, without a tube')
  expect(words).toContain('Brackets mean')
  expect(wordsOf(drawn(createElement(SizeSheet, { size: tyreSize({ marking: '110/80-18' }) })))).toContain(
    'Not marked',
  )
})

it('a field that cannot be read keeps what was typed and is tied to its message', () => {
  const markup = drawn(
    createElement(TyreForm, {
      tyre: {
        asked: { marking: '190/50 17', code: '', sheet: '' },
        sheet: { kind: 'empty' },
        points: [],
        size: { kind: 'unreadable', says: 'This is no size.', hint: 'Type it as it stands.' },
        date: { kind: 'empty' },
        ages: { guidance: 10, saleLine: 8 },
        today: '2026-11-25',
      },
    }),
  )
  expect(markup).toMatch(
    /<input[^>]*aria-invalid="true"[^>]*value="190\/50 17"|<input[^>]*value="190\/50 17"[^>]*aria-invalid="true"/,
  )
  expect(markup).toMatch(/aria-describedby="tyre-marking-error tyre-marking-hint"/)
  expect(wordsOf(markup)).toContain('This is no size. Type it as it stands.')
})

it('what the sheet is not given stands first, with a word and not by colour alone', () => {
  const [fitted, asked] = ['110/80-18 58S', '110/80-18 58H'].map((marking) => tyreSize({ marking }))
  const points = tyreFits({ fitted: fitted!, asked: asked! })
  const words = wordsOf(drawn(createElement(FitSheet, { points })))
  expect(words).toMatch(/Not as the sheet asks: speed.*Not so It is made only for 180 km\/h/)
})

describe('the sheet of a date', () => {
  const week = { week: 3, year: 2001, from: '2001-01-21', to: '2001-01-27', ageYears: 25.8 } as const
  const ages = { guidance: 10, saleLine: 8 }
  const sheet = (swapped: Parameters<typeof DateSheet>[0]['read']['swapped']) =>
    wordsOf(
      drawn(
        createElement(DateSheet, {
          ages,
          read: {
            date: { ...week, certain: true, notes: [] },
            weeks: [week],
            standing: 'over-guidance',
            swapped,
          },
        }),
      ),
    )

  it('tells first and last day, the age, and what to do', () => {
    const words = sheet(null)
    expect(words).toContain('Sunday 21 Jan 2001 to Saturday 27 Jan 2001')
    expect(words).toContain('25.8 years')
    expect(words).toContain('over the guidance age of 10 years: replace it')
  })

  test.each([
    [
      '0103',
      { week: 1, year: 2003, from: '2003-01-05', to: '2003-01-11', ageYears: 23.9 },
      /week 1 of 2003.*1\.9 years younger/,
    ],
    ['0103', null, /a week that there has not been/],
    ['0301', week, /makes no difference/],
  ] as const)('tells which half is the week, and of %s what it would mean', (code, other, expected) => {
    expect(sheet({ code, week: other })).toMatch(expected)
  })
})
