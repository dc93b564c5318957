import type { IdentityPage } from '../../../../../lib/shop/read-identity'

type Place = Pick<IdentityPage['lacks'][number], 'of' | 'about'>

/** What nobody has noted here yet; what speaks against the bike is said at the head of the page. */
export function Missing({ page, of, about }: { page: IdentityPage } & Place) {
  const lacks = page.lacks.filter(
    (lack) => lack.of === of && lack.about === about && !lack.never && !lack.against,
  )
  return lacks.map(({ says }) => (
    <p key={says} className="border-l-8 border-ochre bg-ochre-wash px-3 py-1">
      <strong>Missing.</strong> {says}
    </p>
  ))
}
