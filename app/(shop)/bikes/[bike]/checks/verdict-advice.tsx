import type { ReactNode } from 'react'
import type { Condition } from '../../../../../lib/core/checks/catalogue'
import { finerThan, type ShopInstrument } from '../../../../../lib/core/checks/instruments'
import type { Judgement } from '../../../../../lib/core/checks/judge'
import { formatDay } from '../../../../_ui/formats'
import type { SeenCheck } from './as-seen-here'
import { conditionSaid } from './round-words'
import { toolsFor } from './use-instrument'

/** What to do where a verdict is none yet: how to take the reading so that it can be judged. */
export function VerdictAdvice({ row, own }: { row: SeenCheck; own: readonly ShopInstrument[] }) {
  const { judgement } = row
  return (
    <>
      {judgement.verdict === 'too-close' && <Advice>{tooCloseWords(row, judgement, own)}</Advice>}
      {judgement.verdict === 'not-judged' && judgement.why === 'wrong-condition' && (
        <Advice>{conditionWords(judgement.needs)}</Advice>
      )}
      {judgement.verdict === 'not-judged' && judgement.why === 'no-engine-speed' && (
        <Advice>Measure it again and enter the engine speed beside the reading.</Advice>
      )}
      {judgement.overdue?.map(({ name, due }) => (
        <Advice key={name}>
          <strong>Read with an overdue instrument.</strong> The calibration of {name} ran out on{' '}
          {formatDay(due)}: confirm it with one that is in date.
        </Advice>
      ))}
      {row.staleDays !== null && (
        <Advice>
          <strong>Asked again: {row.staleDays} days old.</strong> It still counts until it is taken again.
        </Advice>
      )}
    </>
  )
}

function Advice({ children }: { children: ReactNode }) {
  return <p className="border-l-8 border-ochre bg-ochre-wash p-3">{children}</p>
}

type TooClose = Extract<Judgement, { verdict: 'too-close' }>

/** Names the place and the finer tools, so that nobody measures the same thing with the same thing for ever. */
function tooCloseWords(row: SeenCheck, { found }: TooClose, own: readonly ShopInstrument[]): ReactNode {
  const { check } = row
  const tools = check.sort === 'measured' ? toolsFor(check, own) : []
  const decided = found.positions.find(({ position }) => position === found.worstPosition)
  const ids = decided?.readings ?? found.positions.flatMap(({ readings }) => readings)
  const used = row.readings.find(({ id }) => ids.includes(id))?.instrument ?? null
  const finer = finerThan(tools, used).map(({ name }) => name.toLowerCase())
  const where = decided?.label ? ` (${decided.label.toLowerCase()})` : ''
  return (
    <>
      <strong>Take another reading{where}</strong>
      {finer.length > 0
        ? `, best with a finer instrument: ${finer.join(' or ')}.`
        : '; there is no finer instrument listed for this. If it stays too close, treat it as outside.'}
    </>
  )
}

function conditionWords(needs: readonly Condition[]): ReactNode {
  const words = needs.map((condition) => conditionSaid[condition].toLowerCase())
  return (
    <>
      <strong>Kept, not judged.</strong> Take it again with: {words.join(', ')}. Say so first, then record it.
    </>
  )
}
