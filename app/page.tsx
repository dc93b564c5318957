import { redirect } from 'next/navigation'
import { openPage } from '../lib/web/pages'
import { startOf } from './(shop)/entries'

/** The address without a path leads to where each role's day begins. */
export default async function Start() {
  const { who } = await openPage('/')
  redirect(startOf(who.roles))
}
