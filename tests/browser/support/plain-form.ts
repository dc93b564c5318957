/**
 * Sends a form of a page the way a browser without scripts does: the fields the page hides in it as they are,
 * and those that a person fills in. Answers the page that comes back.
 */
export async function sendPlainForm(given: {
  page: string
  /** The name of the form, as its label says. */
  form: string
  cookie: string
  fields: Readonly<Record<string, string>>
}): Promise<{ status: number; text: string; location: string | null }> {
  const { page, form, cookie, fields } = given
  const shown = await (await fetch(page, { headers: { cookie } })).text()
  const found = [...shown.matchAll(/<form\b([^>]*)>([\s\S]*?)<\/form>/g)].find(([, attributes = '']) =>
    attributes.includes(`aria-label="${form}"`),
  )
  if (!found) throw new Error(`${page} has no form "${form}"`)
  const body = new FormData()
  for (const [input] of (found[2] ?? '').matchAll(/<input\b[^>]*>/g)) {
    const name = attributeOf(input, 'name')
    if (name && attributeOf(input, 'type') === 'hidden') body.set(name, attributeOf(input, 'value') ?? '')
  }
  for (const [name, value] of Object.entries(fields)) body.set(name, value)
  const answer = await fetch(page, {
    method: 'POST',
    redirect: 'manual',
    headers: { cookie, origin: new URL(page).origin },
    body,
  })
  return { status: answer.status, text: await answer.text(), location: answer.headers.get('location') }
}

function attributeOf(tag: string, name: string): string | null {
  const value = new RegExp(`\\s${name.replace('$', '\\$')}="([^"]*)"`).exec(tag)?.[1]
  return value?.replaceAll('&quot;', '"').replaceAll('&#x27;', "'").replaceAll('&amp;', '&') ?? null
}
