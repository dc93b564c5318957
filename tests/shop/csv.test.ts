import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { readCsv, writeCsv } from '../../lib/shop/csv'
import { Refusal } from '../../lib/shop/refusal'

const columns = ['check', 'least'] as const
const read = (text: string) => readCsv(text, { columns, field: 'csv' }).map(({ cells }) => cells)
const refusalOf = (text: string) => {
  try {
    read(text)
  } catch (error) {
    if (error instanceof Refusal) return error.plain.fields.csv
    throw error
  }
  return null
}

describe('a table in and out', () => {
  it('what was written is read again, whatever the cells hold', () => {
    const cell = fc.string({ unit: 'grapheme' }).map((text) => text.replace(/\p{C}/gu, '').trim())
    fc.assert(
      fc.property(fc.array(fc.record({ check: cell, least: cell }), { minLength: 1 }), (rows) => {
        const filled = rows.filter(({ check, least }) => `${check}${least}` !== '')
        const plain = filled.filter((row) => !Object.values(row).some((text) => /^'[=+\-@]/.test(text)))
        expect(read(writeCsv(columns, plain))).toEqual(plain)
      }),
    )
  })

  it('a cell that an office program would calculate is made harmless, a negative number is left', () => {
    const text = writeCsv(columns, [{ check: '=cmd()', least: -3 }])
    expect(text).toContain("'=cmd(),-3")
    expect(read(text)).toEqual([{ check: '=cmd()', least: '-3' }])
  })

  it('semicolons, a byte order mark, other columns and another order are taken as they come', () => {
    expect(read('\ufeffNote;LEAST;check\r\nmine;4,5;disc\r\n')).toEqual([{ check: 'disc', least: '4,5' }])
  })

  it('counts lines as the person sees them, also after a cell with a line break', () => {
    const lines = readCsv('check,least\n"two\nlines",1\nthird,2\n', { columns, field: 'csv' })
    expect(lines.map(({ line }) => line)).toEqual([3, 4])
  })

  it.each([
    ['', /check, least/],
    ['check\ndisc\n', /Missing: least/],
    ['check,least\n"open,1\n', /quotation mark/],
  ])('%j is refused in words', (text, says) => {
    expect(refusalOf(text)).toMatch(says)
  })
})
