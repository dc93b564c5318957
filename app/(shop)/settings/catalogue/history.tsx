import { type EntryShown, headOf } from '../../../../lib/shop/read-catalogue'
import { formatInstant } from '../../../_ui/formats'
import { Sheet } from '../../../_ui/sheet'
import { doneWords, fieldWord } from './words'

/** Everything that was done to an entry: who, when, and what each field was and became. */
export function EntryHistory({ shown }: { shown: EntryShown }) {
  const { history, zone } = shown
  // An answer's key is for the program; its words stand beside it.
  const told = (fields: (typeof history)[number]['fields']) =>
    fields.filter(({ field }) => !field.endsWith('.key'))
  return (
    <Sheet title="What was changed" sub="Kept for good; the latest first.">
      {history.length === 0 ? (
        <p className="text-soft">Nothing yet.</p>
      ) : (
        <ol className="flex flex-col">
          {history.map(({ seq, at, by, done, fields }) => (
            <li key={seq} className="border-b border-rule py-3 last:border-0">
              <p className="font-semibold">{doneWords[done]}</p>
              <p className="text-soft">
                {by ?? 'Somebody'}, <time dateTime={at.toISOString()}>{formatInstant(at, zone)}</time>
              </p>
              {fields.length > 0 && (
                <dl className="mt-1 flex flex-col gap-1">
                  {told(fields).map(({ field, from, to }) => (
                    <div key={field}>
                      <dt className="text-soft">{fieldWord(field)}</dt>
                      <dd className="break-words">
                        {done !== 'added' && `${sayValue(shown, field, from)} → `}
                        <strong>{sayValue(shown, field, to)}</strong>
                      </dd>
                    </div>
                  ))}
                </dl>
              )}
            </li>
          ))}
        </ol>
      )}
    </Sheet>
  )
}

const named: Readonly<Record<string, 'job' | 'check' | 'operation'>> = {
  jobs: 'job',
  causes: 'job',
  diagnosis: 'job',
  rechecks: 'check',
  operations: 'operation',
}

/** A value as typed, by its title where it names another entry. */
function sayValue({ titles, kind }: EntryShown, field: string, text: string): string {
  if (text === '') return 'nothing'
  const head = headOf(field)
  if (head === 'raises') {
    const [fault = '', cause] = text.slice(text.indexOf(':') + 1).split('/')
    const title = titles.fault[fault]
    if (!title) return text.replace(':', ': ')
    return cause ? `${title}: ${titles.job[cause] ?? cause}` : title
  }
  const names = head === 'needs' && kind === 'operation' ? 'operation' : named[head]
  const title = names && titles[names][text]
  return title ?? text.replaceAll('\n', ' / ')
}
