import type { Judgement } from '../../../../../lib/core/checks/judge'
import type { Reading } from '../../../../../lib/core/checks/reading'
import type { CheckShown } from '../../../../../lib/shop/read-sheet'
import { formatUnit } from '../../../../_ui/formats'

/** A reading as people say it: 4.5 mm, or the words of its answer. */
export function readingWords(check: CheckShown, reading: Pick<Reading, 'kind' | 'value' | 'unit'>): string {
  const { kind, value, unit } = reading
  if (kind === 'skipped') return `Not checked: ${value}`
  switch (check.sort) {
    case 'look':
      return check.answers.find(({ key }) => key === value)?.label ?? value
    case 'number':
      return `${value} ${check.unitWord}`
    case 'measured':
      return `${value} ${formatUnit(unit ?? check.unit)}`
    case 'code':
      return value === 'unknown' ? 'Unknown' : value
  }
}

/** What is said beside the word of the verdict, without saying the word again. */
export function saysBeside(judgement: Judgement): string {
  return judgement.verdict === 'not-checked' ? (judgement.because ?? '') : judgement.says
}
