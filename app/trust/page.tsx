import type { Metadata } from 'next'
import { headers } from 'next/headers'
import Link from 'next/link'
import { isThisMachine } from '../../lib/web/scheme'
import { addressForOthers, certificateAddress, servedHere, type Trust } from '../../lib/web/served'
import { Disclosure } from '../_ui/disclosure'
import { formatDayOf } from '../_ui/formats'
import { Caution } from '../_ui/notes'
import { PageHead } from '../_ui/page-head'
import { QrCode } from '../_ui/qr-code'
import { Sheet } from '../_ui/sheet'
import { deviceKindOf, deviceKinds } from './device-kinds'

export const metadata: Metadata = { title: 'Trust this shop' }

/** How a device comes to trust the shop's own certificate; over plain http alone, how the shop comes to have one. */
export default async function TrustPage() {
  const asked = await headers()
  const served = servedHere()
  if (!served?.trust) return <PlainHttp />
  const host = asked.get('host') ?? ''
  const others = addressForOthers((name) => asked.get(name))?.replace(/^https?:\/\//, '') ?? null
  return (
    <main id="main" className="page bench">
      <PageHead
        title="Trust this shop on a device"
        sub="Once on each device. From then on nobody in the network can read along, and a tablet keeps what it records where there is no network."
      />
      <div className="grid items-start gap-6 lg:grid-cols-[minmax(0,3fr)_minmax(0,2fr)]">
        <Steps trust={served.trust} host={host} userAgent={asked.get('user-agent') ?? ''} />
        <div className="flex flex-col gap-6">
          {others && <OtherDevice address={`http://${others}/trust`} here={isThisMachine(host)} />}
          <Sheet title="What is trusted">
            <p>
              A certificate that this machine made for this shop alone, <strong>{served.trust.name}</strong>.
              It holds until {formatDayOf(served.trust.notAfter, 'UTC')} and can speak only for names and
              addresses of a local network, never for a site of the internet. Its key never leaves this
              machine.
            </p>
          </Sheet>
        </div>
      </div>
    </main>
  )
}

function Steps({ trust, host, userAgent }: { trust: Trust; host: string; userAgent: string }) {
  const kinds = deviceKindOf(userAgent)
  return (
    <div className="flex flex-col gap-6">
      <Sheet title="1. Compare">
        <p>These figures must be the same as in the terminal of the machine that serves the shop:</p>
        <Fingerprint of={trust.fingerprint} />
        <Caution title="trust nothing that differs">
          If they differ, somebody else answered. Go on only in the shop&rsquo;s own network, and ask whoever
          runs the machine.
        </Caution>
      </Sheet>
      <Sheet title="2. Load the certificate">
        <a href={certificateAddress} className="btn">
          Load the certificate
        </a>
      </Sheet>
      <Sheet title="3. Let the device trust it" sub="Makers name these a little differently.">
        {deviceKinds.map(({ kind, name, steps, away }) => (
          <div key={kind} className="border-b border-rule last:border-0">
            <Disclosure summary={<span className="font-semibold">{name}</span>} open={kinds.includes(kind)}>
              <ol className="flex list-decimal flex-col gap-2 pl-6">
                {steps.map((step) => (
                  <li key={step}>{step}</li>
                ))}
              </ol>
              <p className="mt-3 text-soft">
                <strong>To take it away again:</strong> {away}
              </p>
            </Disclosure>
          </div>
        ))}
      </Sheet>
      <Sheet title="4. Open the shop">
        <a href={`https://${host}/`} className="btn">
          Open the shop over https
        </a>
        <p className="mt-3 text-soft">
          No warning means that it worked. A warning clicked away is not enough: without trust a tablet keeps
          nothing.
        </p>
      </Sheet>
    </div>
  )
}

/** Eight pairs a row, so that two people can read it to each other. */
function Fingerprint({ of }: { of: string }) {
  const pairs = of.split(':')
  const rows = [0, 8, 16, 24].map((from) => pairs.slice(from, from + 8).join(' '))
  return (
    <p className="my-3 font-semibold tabular-nums sm:text-xl">
      <span className="sr-only">Fingerprint, SHA-256: </span>
      {rows.map((row) => (
        <span key={row} className="block whitespace-nowrap">
          {row}
        </span>
      ))}
    </p>
  )
}

function OtherDevice({ address, here }: { address: string; here: boolean }) {
  return (
    <Sheet title={here ? 'On a tablet or telephone' : 'On another device'}>
      <QrCode text={address} label="Square code: opens this page on another device" />
      <p className="mt-3">
        Point its camera here, or open <strong className="block wrap-anywhere">{address}</strong>
      </p>
    </Sheet>
  )
}

function PlainHttp() {
  return (
    <main id="main" className="page-narrow">
      <PageHead
        title="This shop is served over plain http"
        sub="It works, with less: for a network you trust, on devices that always have one."
      />
      <Sheet title="What does not work">
        <ul className="flex list-disc flex-col gap-2 pl-6">
          <li>Without a network a device keeps nothing: no pages, no readings, no viewing in a car park.</li>
          <li>The shop cannot be put on the start screen of a tablet as a program of its own.</li>
          <li>Anybody in the same network could read along, PINs too.</li>
        </ul>
      </Sheet>
      <Sheet title="How to switch to https">
        <ol className="flex list-decimal flex-col gap-2 pl-6">
          <li>On each tablet see that nothing waits to be sent. What it keeps belongs to the old address.</li>
          <li>
            On the machine that serves the shop stop the program with Ctrl-C and start it with{' '}
            <code className="whitespace-nowrap">npm start -- --https</code>
          </li>
          <li>
            On each device open the address that the terminal shows then. It leads through the rest, once.
          </li>
        </ol>
      </Sheet>
      <p>
        <Link href="/" className="tap">
          Back to the start
        </Link>
      </p>
    </main>
  )
}
