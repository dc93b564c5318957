import type { Metadata } from 'next'
import Link from 'next/link'
import { readDistanceTold } from '../../../../../lib/shop/distances'
import { readStory, type Story, storyAsked } from '../../../../../lib/shop/read-story'
import { found, openPage } from '../../../../../lib/web/pages'
import { bikeName, numbersOf } from '../../../../_ui/bike-name'
import { DistanceOnPaper } from '../../../../_ui/distance-on-paper'
import { countOf, formatDayOf, formatNumber } from '../../../../_ui/formats'
import { StageMark } from '../../../../_ui/marks'
import { EmptyState } from '../../../../_ui/notes'
import { PageHead } from '../../../../_ui/page-head'
import { Sheet } from '../../../../_ui/sheet'
import { BikeNav } from '../../_ui/bike-nav'
import { StoryFilter } from './story-filter'
import { kindWords } from './story-kinds'
import { StoryList } from './story-list'

export const metadata: Metadata = { title: 'Story' }

export default async function StoryPage({
  params,
  searchParams,
}: {
  params: Promise<{ bike: string }>
  searchParams: Promise<Record<string, string | string[] | undefined>>
}) {
  const context = await openPage('/bikes/[bike]/story')
  const [{ bike }, typed] = await Promise.all([params, searchParams])
  const story = await found(readStory(context, { viewingNo: bike, asked: storyAsked(typed) }))
  const distance = await readDistanceTold(context.store.db, story.id)
  const { viewingNo, whole, zone, entries, asked } = story
  const at = `/bikes/${viewingNo}`
  return (
    <main id="main" className="page bench">
      <PageHead
        title={bikeName(story)}
        sub={numbersOf(story)}
        figure={{
          label: 'Entries in its story',
          value: formatNumber(whole.count, 0),
          note: whole.since === null ? 'nothing has happened yet' : `since ${formatDayOf(whole.since, zone)}`,
        }}
        next={{ href: at, label: 'What is next on this bike' }}
      >
        <StageMark stage={story.stage} />
      </PageHead>
      <BikeNav viewingNo={viewingNo} current="story" who={context.who} />
      <DistanceOnPaper told={distance} />
      <StoryFilter at={`${at}/story`} kinds={story.kinds} asked={asked} />
      <Sheet title="What happened" sub={whatIsShown(story)}>
        {entries.length === 0 ? (
          <EmptyState title="Nothing of this sort.">
            Choose another sort of entry, or go back to the first page.
          </EmptyState>
        ) : (
          <StoryList story={story} />
        )}
        <Pages at={`${at}/story`} story={story} />
      </Sheet>
    </main>
  )
}

function whatIsShown({ count, entries, asked }: Story): string {
  const of = asked.kind === null ? '' : ` of ${kindWords[asked.kind].toLowerCase()}`
  const order = asked.order === 'newest' ? 'newest first' : 'oldest first'
  const part = entries.length < count ? `, ${formatNumber(entries.length, 0)} on this page` : ''
  return `${countOf(count, 'entry', 'entries')}${of}${part}, ${order}. Nothing here was ever changed.`
}

/** The next hundred entries, and the way back to the first. */
function Pages({ at, story: { asked, next } }: { at: string; story: Story }) {
  if (next === null && asked.behind === null) return null
  const address = (behind: number | null) => {
    const query = new URLSearchParams({ order: asked.order })
    if (asked.kind) query.set('kind', asked.kind)
    if (behind !== null) query.set('behind', String(behind))
    return `${at}?${query}`
  }
  return (
    <p className="no-print mt-4 flex flex-wrap gap-3">
      {asked.behind !== null && (
        <Link href={address(null)} className="btn-quiet">
          Back to the first page
        </Link>
      )}
      {next !== null && (
        <Link href={address(next)} className="btn-quiet">
          {asked.order === 'newest' ? 'Older entries' : 'Later entries'}
        </Link>
      )}
    </p>
  )
}
