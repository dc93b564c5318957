import type { QuestionShown } from '../../../../../lib/shop/read-questions'
import { Fact } from '../../../../_ui/fact'
import { formatHours, formatInstant } from '../../../../_ui/formats'
import { Notice } from '../../../../_ui/notes'
import { answeredWords } from './bench-words'

/** What was asked and what came back, without prices: what is undone and where things are stays in sight. */
export function QuestionWords({ question, zone }: { question: QuestionShown; zone: string }) {
  const { asks, moreHours, undone, keptWhere, job, who, at, answered } = question
  return (
    <article className="flex flex-col gap-2">
      <p className="text-lg font-semibold">{asks}</p>
      <p className="text-soft">
        {who}, {formatInstant(at, zone)}
        {job && `, at ${job}`}
      </p>
      <dl className="grid gap-2 sm:grid-cols-3">
        <Fact label="More hours" value={moreHours === null ? 'not said' : formatHours(moreHours)} />
        <Fact label="Undone" value={undone || 'nothing said'} />
        <Fact label="Parts and boxes" value={keptWhere || 'nothing said'} />
      </dl>
      {answered && (
        <Notice title={answeredWords(answered)}>
          {answered.budgetHours !== null && `Stop and ask above ${formatHours(answered.budgetHours)}. `}
          {answered.note && `${answered.note} `}
          <span className="text-soft">
            {answered.who}, {formatInstant(answered.at, zone)}
          </span>
        </Notice>
      )}
    </article>
  )
}
