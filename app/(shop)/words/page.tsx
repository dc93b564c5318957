import type { Metadata } from 'next'
import { openPage } from '../../../lib/web/pages'
import { PageHead } from '../../_ui/page-head'
import { words } from '../../_ui/words'

export const metadata: Metadata = { title: 'Words' }

/** Every word of the tool with its meaning, in one list to read or search. */
export default async function Words() {
  await openPage('/words')
  const all = Object.values(words).sort((a, b) => a.word.localeCompare(b.word, 'en'))
  return (
    <main id="main" className="page-narrow">
      <PageHead
        title="The words of this tool"
        sub="What each word means here. A dotted line under a word anywhere opens the same text."
      />
      <dl className="sheet flex flex-col">
        {all.map(({ word, says }) => (
          <div
            key={word}
            className="grid gap-x-6 gap-y-1 border-b border-rule py-3 last:border-0 sm:grid-cols-[12rem_1fr]"
          >
            <dt className="font-serif text-lg font-semibold first-letter:uppercase">{word}</dt>
            <dd>{says}</dd>
          </div>
        ))}
      </dl>
    </main>
  )
}
