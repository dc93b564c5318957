import type { Metadata } from 'next'
import Link from 'next/link'
import { redirect } from 'next/navigation'
import { readSignInTiles, type SignInTile } from '../../lib/shop/read-sign-in'
import { pageContext } from '../../lib/web/pages'
import { ActionForm } from '../_ui/action-form'
import { Field } from '../_ui/field'
import { HiddenField } from '../_ui/hidden-field'
import { Notice } from '../_ui/notes'
import { PageHead } from '../_ui/page-head'
import { PinPad } from '../_ui/pin-pad'
import { Sheet } from '../_ui/sheet'
import { SubmitButton } from '../_ui/submit-button'
import { enrolDemoDeviceAction, enrolDeviceAction, signInAction } from './actions'
import { ForgetKept } from './forget-kept'

export const metadata: Metadata = { title: 'Sign in' }

type Asked = { searchParams: Promise<Record<string, string | string[] | undefined>> }

/** A stranger's device is asked for a code and told no name; an enrolled one shows who may sign in. */
export default async function SignIn({ searchParams }: Asked) {
  const { store, who, deviceId } = await pageContext()
  const shop = await store.db.shop.findFirst({ select: { name: true } })
  if (!shop) redirect('/first-day')
  if (who) redirect('/')

  const demo = process.env.STAND_LEDGER_DEMO === '1'
  const asked = await searchParams
  if (!deviceId) return <Stranger demo={demo} code={textOf(asked.code)} />

  const tiles = await readSignInTiles(store, { deviceId, demo })
  const chosen = tiles.find((tile) => tile.id === textOf(asked.person))
  return (
    <main id="main" className="bench page-narrow">
      <ForgetKept />
      {demo && <DemoNotice />}
      {chosen ? <PinOf tile={chosen} /> : <Names shopName={shop.name} tiles={tiles} />}
    </main>
  )
}

function textOf(value: string | string[] | undefined): string {
  return typeof value === 'string' ? value : ''
}

function Stranger({ demo, code }: { demo: boolean; code: string }) {
  return (
    <main id="main" className="page-narrow">
      <ForgetKept />
      {demo && (
        <Sheet title="Look around the invented shop">
          <div className="flex flex-col items-start gap-4">
            <p>
              This is the demo. The shop, its people and its bikes are made up, so this device may come in
              without a code. In a real shop it would need one.
            </p>
            <ActionForm action={enrolDemoDeviceAction} label="Demo">
              <SubmitButton pending="One moment …">Use this device in the demo</SubmitButton>
            </ActionForm>
          </div>
        </Sheet>
      )}
      <PageHead
        title="Enrol this device"
        sub="People sign in only on devices that the shop knows. A manager makes a code under Settings, People and devices."
      />
      <ActionForm action={enrolDeviceAction} label="Enrol this device">
        <Field
          name="code"
          label="Code"
          hint="Three groups of four. It works once, for half an hour."
          defaultValue={code}
          required
        />
        <Field
          name="deviceName"
          label="What to call this device"
          hint="So that it is known again in a list, like bench tablet."
          required
        />
        <div>
          <SubmitButton pending="Enrolling …">Enrol this device</SubmitButton>
        </div>
      </ActionForm>
      <Lost />
    </main>
  )
}

function DemoNotice() {
  return (
    <Notice title="This is the demo">
      Everybody here is invented, so their PINs are shown. In a real shop nobody sees a PIN.
    </Notice>
  )
}

function Names({ shopName, tiles }: { shopName: string; tiles: readonly SignInTile[] }) {
  return (
    <>
      <PageHead title={shopName} sub="Who are you?" />
      <ul className="grid gap-3 sm:grid-cols-2">
        {tiles.map(({ id, name, pin }) => (
          <li key={id}>
            <Link
              href={`/sign-in?person=${id}`}
              className="flex min-h-20 flex-col justify-center rounded-sheet border-2 border-edge bg-sheet px-4 py-3
                text-ink no-underline hover:border-ink hover:bg-wash"
            >
              <span className="font-serif text-2xl font-semibold">{name}</span>
              {pin && <span className="text-soft">Demo PIN {pin}</span>}
            </Link>
          </li>
        ))}
      </ul>
      <Lost />
    </>
  )
}

function Lost() {
  return (
    <p className="flex flex-wrap items-center gap-x-2 text-soft">
      PIN forgotten? A manager sets a new one. No manager can come in?
      <Link href="/back-in" className="tap">
        The way back in
      </Link>
    </p>
  )
}

function PinOf({ tile: { id, name, pin } }: { tile: SignInTile }) {
  return (
    <div className="mx-auto flex w-full max-w-sm flex-col gap-5">
      <PageHead title={name} sub={pin ? `Demo PIN ${pin}` : undefined}>
        <Link href="/sign-in" className="tap">
          Somebody else
        </Link>
      </PageHead>
      <ActionForm action={signInAction} label="Sign in">
        <HiddenField name="person" value={id} />
        <PinPad />
        <SubmitButton pending="Signing in …">Sign in</SubmitButton>
      </ActionForm>
    </div>
  )
}
