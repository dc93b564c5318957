'use client'

import Link from 'next/link'
import { useState } from 'react'
import type { DeviceShown } from '../../../lib/shop/read-device'
import { Disclosure } from '../../_ui/disclosure'
import { Fact } from '../../_ui/fact'
import { countOf, formatInstant } from '../../_ui/formats'
import type { Entry } from '../../_ui/outbox/outbox'
import type { Heard } from '../../_ui/outbox/send'
import { useOutbox } from '../../_ui/outbox/use-outbox'
import { isUnsent, sendingWords, stateWords } from '../../_ui/outbox/words'
import { PageHead } from '../../_ui/page-head'
import { Sheet } from '../../_ui/sheet'
import { keepAnew } from '../keep-pages'
import { type DeviceFacts, useDeviceFacts } from './use-device-facts'

/** What waits, what needs a look, and what this device keeps; everything a person needs who fears for his work. */
export function DevicePanel({
  device,
  person,
  build,
}: {
  device: DeviceShown
  person: string
  build: string
}) {
  const { state, outbox } = useOutbox(person)
  const [turn, setTurn] = useState(0)
  const [busy, setBusy] = useState(false)
  const facts = useDeviceFacts(turn + state.confirmed)
  const waiting = state.entries.filter(isUnsent)
  const refused = state.entries.filter((entry) => entry.state === 'refused')
  const nameOf = (id: string) => device.people.find((one) => one.id === id)?.name ?? 'somebody else'

  async function sendNow() {
    setBusy(true)
    await outbox().sendNow()
    await keepAnew(person)
    setBusy(false)
    setTurn(turn + 1)
  }

  return (
    <div className="flex flex-col gap-6">
      <PageHead
        title="This device"
        sub={device.owner ? `${device.name}, ${device.owner}’s own` : device.name}
        figure={{ label: 'Not yet on the server', value: waiting.length }}
      />
      <div className="flex flex-wrap items-center gap-4">
        <button type="button" className="btn" disabled={busy} onClick={() => void sendNow()}>
          {busy ? 'One moment …' : 'Send now'}
        </button>
        <p role="status" className={state.trouble ? 'font-semibold' : 'text-soft'}>
          {sendingWords(state) || 'Nothing waits: all that was recorded here is on the server.'}
        </p>
      </div>
      {refused.length > 0 && (
        <Sheet title="Needs a look" sub="The server did not take these. Record again what still counts.">
          <ul className="flex flex-col">
            {refused.map((entry) => (
              <Line key={entry.kept.id} entry={entry} who={nameOf(entry.kept.author)}>
                <button
                  type="button"
                  className="btn-quiet"
                  onClick={() => outbox().forget([entry.kept.id])}
                  aria-label={`Put away ${entry.kept.label}`}
                >
                  Put away
                </button>
              </Line>
            ))}
          </ul>
        </Sheet>
      )}
      {waiting.length > 0 && (
        <Sheet title="Waits to be sent" sub="In the order it was recorded.">
          <ul className="flex flex-col">
            {waiting.map((entry) => (
              <Line key={entry.kept.id} entry={entry} who={nameOf(entry.kept.author)} />
            ))}
          </ul>
        </Sheet>
      )}
      <Sheet title="Without a network">
        <WithoutNetwork facts={facts} person={person} zone={device.zone} />
      </Sheet>
      <Sheet title="What this device says of itself">
        <dl className="grid gap-x-8 gap-y-4 sm:grid-cols-2">
          <Fact label="Room used" value={usedWords(facts)} />
          <Fact label="Kept when the disk runs short" value={promiseWords(facts)} />
          <Fact
            label="Last heard by the server"
            value={
              state.heard ? formatInstant(new Date(state.heard.at), device.zone) : 'not since it was set up'
            }
          />
          <Fact label="Its clock" value={clockWords(state.heard)} />
          <Fact label="Build of this page" value={build || 'not told'} />
        </dl>
      </Sheet>
    </div>
  )
}

function Line({ entry, who, children }: { entry: Entry; who: string; children?: React.ReactNode }) {
  const { kept } = entry
  return (
    <li className="flex flex-wrap items-center justify-between gap-x-6 gap-y-1 border-b border-rule py-2 last:border-0">
      <span className="min-w-0">
        {kept.label}: <strong>{kept.typed}</strong>
        <span className="block text-soft">
          {who}: {stateWords(entry)}
        </span>
        {entry.state === 'refused' && (
          <span className="block">{Object.values(entry.refused.fields)[0] ?? entry.refused.message}</span>
        )}
      </span>
      {children}
    </li>
  )
}

function WithoutNetwork({
  facts,
  person,
  zone,
}: {
  facts: DeviceFacts | null
  person: string
  zone: string
}) {
  if (facts === null) return <p>One moment …</p>
  if (facts.keepsNothing === 'plain-http')
    return (
      <p>
        What is recorded on an open page is kept here and sent later, but no page opens without a network:
        browsers allow that only where the shop is reached by https. A manager finds out how under Settings.
      </p>
    )
  if (facts.keepsNothing === 'browser')
    return <p>This browser keeps no pages. What is recorded on an open page is kept here and sent later.</p>
  const { kept } = facts
  if (!kept || kept.person !== person || kept.keptAt === null)
    return <p>No page is kept yet. They are fetched by themselves while there is a network.</p>
  return (
    <>
      <p>
        <strong>{countOf(kept.pages.length, 'page')}</strong> open here without a network, as they were on{' '}
        {formatInstant(new Date(kept.keptAt), zone)}. Pages with money are not among them.
      </p>
      <Disclosure summary={<span className="font-semibold">Which ones</span>}>
        <ul className="flex flex-col">
          {[...kept.pages]
            .sort((a, b) => a.address.localeCompare(b.address, 'en', { numeric: true }))
            .map(({ address, title }) => (
              <li key={address}>
                <Link href={address} prefetch={false} className="tap">
                  {plainText(title)}
                </Link>
              </li>
            ))}
        </ul>
      </Disclosure>
    </>
  )
}

/** Titles come as they stand in a page's own text. */
function plainText(title: string): string {
  return new DOMParser().parseFromString(title, 'text/html').documentElement.textContent ?? title
}

function usedWords(facts: DeviceFacts | null): string {
  if (facts === null) return '…'
  if (facts.used === null) return 'this browser does not say'
  return facts.most === null ? megabytes(facts.used) : `${megabytes(facts.used)} of ${megabytes(facts.most)}`
}

const megabytes = (bytes: number) =>
  bytes >= 1e9 ? `${(bytes / 1e9).toFixed(1)} GB` : `${(bytes / 1e6).toFixed(1)} MB`

function promiseWords(facts: DeviceFacts | null): string {
  if (facts === null) return '…'
  if (facts.promised === null) return 'this browser does not say: send often'
  return facts.promised ? 'yes, the browser has agreed to' : 'not promised by the browser: send often'
}

function clockWords(heard: Heard | undefined): string {
  if (!heard) return 'not compared yet'
  const seconds = Math.round(Math.abs(heard.clockAheadMs) / 1000)
  if (seconds < 2) return 'goes with the server’s'
  const far =
    seconds < 120
      ? countOf(seconds, 'second')
      : seconds < 7200
        ? countOf(Math.round(seconds / 60), 'minute')
        : countOf(Math.round(seconds / 3600), 'hour')
  return `${far} ${heard.clockAheadMs > 0 ? 'ahead of' : 'behind'} the server’s${seconds > 120 ? '; put right by the server' : ''}`
}
