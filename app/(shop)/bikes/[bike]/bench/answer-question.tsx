import type { OpenQuestion } from '../../../../../lib/shop/read-questions'
import { ActionForm } from '../../../../_ui/action-form'
import { bikeName } from '../../../../_ui/bike-name'
import { RadioField } from '../../../../_ui/choice-fields'
import { Field, TextArea } from '../../../../_ui/field'
import { formatEstimate } from '../../../../_ui/formats'
import { HiddenField, VersionField } from '../../../../_ui/hidden-field'
import { SubmitButton } from '../../../../_ui/submit-button'
import { Word } from '../../../../_ui/word'
import { answerQuestionAction } from './actions'
import { answerWords, begunWords } from './bench-words'
import { QuestionWords } from './questions'

const answerChoices = Object.entries(answerWords).map(([value, words]) => ({ value, ...words }))
const begunChoices = Object.entries(begunWords).map(([value, words]) => ({ value, ...words }))

/** A question with what it means in money, and the manager's answer to it. */
export function AnswerQuestion({
  question,
  currency,
  zone,
  mayAnswer,
}: {
  question: OpenQuestion
  currency: string
  zone: string
  mayAnswer: boolean
}) {
  return (
    <div className="flex flex-col gap-4">
      <QuestionWords question={question} zone={zone} />
      <BeforeAndAfter figures={question.figures} currency={currency} />
      {mayAnswer ? (
        <div className="no-print">
          <ActionForm
            action={answerQuestionAction}
            label={`Answer for ${bikeName(question.bike)}, viewing ${question.bike.viewingNo}`}
            done="The answer is at the bench."
          >
            <HiddenField name="question" value={question.id} />
            <VersionField version={question.version} />
            <RadioField name="answer" label="Answer" choices={answerChoices} columns={3} required />
            {question.job !== null && question.jobUnderWay && (
              <RadioField
                name="begun"
                label={`If you stop it: ${question.job}`}
                hint="What it left open stays locked until it is put back, either way."
                choices={begunChoices}
                defaultValue="ends"
                columns={2}
              />
            )}
            <Field
              name="budgetHours"
              label="Stop and ask above"
              hint="If it goes on: the new hours of the whole job."
              inputMode="decimal"
              unit="h"
            />
            <TextArea name="note" label="A word to the bench" hint="Read without any prices." rows={2} />
            <div>
              <SubmitButton>Send the answer</SubmitButton>
            </div>
          </ActionForm>
        </div>
      ) : (
        <p>A manager answers this.</p>
      )}
    </div>
  )
}

function BeforeAndAfter({ figures, currency }: { figures: OpenQuestion['figures']; currency: string }) {
  if (figures === null) return null
  const money = (minor: number | null) => (minor === null ? 'not known' : formatEstimate(minor, currency))
  const { stillToSpendBefore, stillToSpendAfter, marginBefore, marginAfter } = figures
  const rows = [
    { key: 'spend', label: 'Still to spend', before: stillToSpendBefore, after: stillToSpendAfter },
    {
      key: 'margin',
      label: <Word name="margin">Expected margin</Word>,
      before: marginBefore,
      after: marginAfter,
    },
  ]
  return (
    <table className="ledger">
      <caption>As it stood when it was asked</caption>
      <thead>
        <tr>
          <th scope="col">
            <span className="sr-only">Figure</span>
          </th>
          <th scope="col" className="num">
            Without it
          </th>
          <th scope="col" className="num">
            With it
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map(({ key, label, before, after }) => (
          <tr key={key}>
            <th scope="row">{label}</th>
            <td className="num text-lg">{money(before)}</td>
            <td className="num text-lg font-semibold">{money(after)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
