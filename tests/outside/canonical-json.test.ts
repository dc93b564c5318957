import { expect, test } from 'vitest'
import { canonicalJson, sha256 } from '../../lib/data/hash'

// RFC 8785, JSON Canonicalization Scheme (Rundgren, Jordan, Erdtman, 2020), sections 3.2.2 and 3.2.3; typed
// from memory of the published text. The text is hashed as UTF-8, the names sort by UTF-16 code units.

test('the sample of RFC 8785 section 3.2.2 becomes the text printed in section 3.2.3', () => {
  const sample = String.raw`{
    "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
    "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
    "literals": [null, true, false]
  }`
  const expected = String.raw`{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}`
  expect(canonicalJson(JSON.parse(sample))).toBe(expected)
})

test('names sort as in the sample of RFC 8785 section 3.2.3', () => {
  const sample = String.raw`{
    "\u20ac": "Euro Sign",
    "\r": "Carriage Return",
    "\ufb33": "Hebrew Letter Dalet With Dagesh",
    "1": "One",
    "\ud83d\ude00": "Emoji: Grinning Face",
    "\u0080": "Control",
    "\u00f6": "Latin Small Letter O With Diaeresis"
  }`
  const values = [...canonicalJson(JSON.parse(sample)).matchAll(/:"([^"]*)"/g)].map(([, value]) => value)
  expect(values).toEqual([
    'Carriage Return',
    'One',
    'Control',
    'Latin Small Letter O With Diaeresis',
    'Euro Sign',
    'Emoji: Grinning Face',
    'Hebrew Letter Dalet With Dagesh',
  ])
})

// FIPS 180-4's example for SHA-256 (published by NIST with the standard); from memory.
test('SHA-256 of "abc" is that of the standard', () => {
  expect(sha256('abc')).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad')
})
