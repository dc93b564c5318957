import { cookies } from 'next/headers'
import { notFound, redirect } from 'next/navigation'
import { cache } from 'react'
import type { Context, Who } from '../shop/deed'
import { Refusal } from '../shop/refusal'
import { type PersonVerb, whoMay } from '../shop/who-may'
import { contextOf } from './request-context'

/**
 * Every page and who may see it: a verb of the table in lib/shop/who-may.ts, or `anyone` for the pages
 * before sign-in. A page that does not stand here cannot be opened, and a test compares this with the build.
 */
export const pages = {
  '/': 'bike:see',
  '/first-day': 'anyone',
  '/sign-in': 'anyone',
  '/back-in': 'anyone',
  '/trust': 'anyone',
  '/away': 'viewing:take-in',
  '/board': 'money:see',
  '/queue': 'people:change',
  '/bench': 'money:see',
  '/bench/today': 'bike:see',
  '/bikes': 'bike:see',
  '/bikes/new': 'viewing:take-in',
  '/bikes/[bike]': 'bike:see',
  '/bikes/[bike]/edit': 'bike:change',
  '/bikes/[bike]/checks': 'bike:see',
  '/bikes/[bike]/checks/short': 'bike:see',
  '/bikes/[bike]/identity': 'bike:see',
  '/bikes/[bike]/bench': 'bike:see',
  '/bikes/[bike]/parts': 'bike:see',
  '/bikes/[bike]/tag': 'bike:see',
  '/bikes/[bike]/photos': 'bike:see',
  '/bikes/[bike]/photos/marks': 'bike:see',
  '/bikes/[bike]/rides': 'bike:see',
  '/bikes/[bike]/work': 'money:see',
  '/bikes/[bike]/deal': 'money:see',
  '/bikes/[bike]/prices': 'price:note',
  '/bikes/[bike]/offer': 'offer:show',
  '/bikes/[bike]/story': 'bike:see',
  '/device': 'bike:see',
  '/parts': 'part:note',
  '/parts/[supplier]': 'part:order',
  '/seller-side': 'seller-side:end',
  '/settings': 'figures:change',
  '/settings/learned': 'figures:change',
  '/settings/learned-hours': 'figures:change',
  '/settings/bench': 'plan:set',
  '/settings/people': 'people:change',
  '/settings/limits': 'limit:set',
  '/settings/limits/model': 'bike:see',
  '/settings/limits/model/enter': 'limit:set',
  '/settings/instruments': 'instrument:change',
  '/settings/jobs': 'catalogue:change',
  '/settings/catalogue': 'catalogue:change',
  '/settings/catalogue/[kind]': 'catalogue:change',
  '/settings/catalogue/[kind]/[entry]': 'catalogue:change',
  '/settings/catalogue/[kind]/new': 'catalogue:change',
  '/settings/catalogue/[kind]/table': 'catalogue:change',
  '/tyres': 'bike:see',
  '/words': 'bike:see',
} as const satisfies Record<string, PersonVerb | 'anyone'>

export type Page = keyof typeof pages
export type SignedContext = Context & { who: Who }

/** The context of the page being drawn; read once a request. */
export const pageContext = cache(async (): Promise<Context> => {
  const jar = await cookies()
  return contextOf((name) => jar.get(name)?.value)
})

/**
 * Opens a page for a signed-in person, or leads to where they can become one. A role that may not see it is
 * told the same as for a page that is not there.
 */
export async function openPage(page: Page): Promise<SignedContext> {
  const verb = pages[page]
  const context = await pageContext()
  if (!(await context.store.db.shop.findFirst())) redirect('/first-day')
  if (!context.who) redirect('/sign-in')
  if (verb !== 'anyone' && !whoMay(context.who, verb)) notFound()
  return { ...context, who: context.who }
}

/** What a page reads; a refusal that it is not there is the page for what is not there. */
export async function found<T>(read: Promise<T>): Promise<T> {
  try {
    return await read
  } catch (error) {
    if (error instanceof Refusal && error.plain.kind === 'not-found') notFound()
    throw error
  }
}
