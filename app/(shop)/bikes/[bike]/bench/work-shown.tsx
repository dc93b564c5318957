import type { WorkShown } from '../../../../../lib/shop/read-bench'
import { formatNumber } from '../../../../_ui/formats'
import { Caution, CautionAgain } from '../../../../_ui/notes'

/** The steps of a job, what else they are good for, and its parts. */
export function StepsAndParts({ work: { steps, parts } }: { work: WorkShown }) {
  const others = [...new Set(steps.flatMap(({ sharedWith }) => sharedWith))]
  return (
    <div className="flex flex-col gap-1">
      {steps.length > 0 && (
        <p>
          <strong>Steps:</strong> {steps.map(({ title }) => title).join('; ')}.
        </p>
      )}
      {others.length > 0 && <p className="text-soft">Shares steps with: {others.join('; ')}.</p>}
      <p>
        <strong>Parts:</strong> {parts.length > 0 ? partsWords(parts) : 'none'}.
      </p>
    </div>
  )
}

/** The same as one line of the job card. */
export function stepsAndPartsWords({ steps, parts }: WorkShown): string {
  return [
    steps.length > 0 && `${steps.map(({ title }) => title).join('; ')}.`,
    parts.length > 0 && `Parts: ${partsWords(parts)}.`,
  ]
    .filter(Boolean)
    .join(' ')
}

function partsWords(parts: WorkShown['parts']): string {
  return parts.map(({ name, qty }) => (qty === 1 ? name : `${name} × ${formatNumber(qty)}`)).join(', ')
}

/** What to mind: in full where a page says it first, by its name with every later job. */
export function Cautions({
  work,
  above,
}: {
  work: WorkShown
  /** The jobs that stand before it on the page. */
  above: readonly WorkShown[]
}) {
  const said = new Set(above.flatMap(({ cautions }) => cautions.map(({ title }) => title)))
  const first = work.cautions.filter(({ title }) => !said.has(title))
  const again = work.cautions.filter(({ title }) => said.has(title))
  return (
    <>
      {first.length > 0 && (
        <div className="grid gap-2 lg:grid-cols-2">
          {first.map(({ title, says }) => (
            <Caution key={title} title={title}>
              {says}
            </Caution>
          ))}
        </div>
      )}
      {again.length > 0 && <CautionAgain titles={again.map(({ title }) => title)} />}
    </>
  )
}
