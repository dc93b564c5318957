import Link from 'next/link'
import { uuidv7 } from 'uuidv7'
import type { ReadyLack } from '../../../../lib/core/checks/ready'
import type { ReadyShown } from '../../../../lib/shop/ready'
import { mayDo, type Role } from '../../../../lib/shop/who-may'
import { ActionForm } from '../../../_ui/action-form'
import { Disclosure } from '../../../_ui/disclosure'
import { Field } from '../../../_ui/field'
import { countOf, formatInstant } from '../../../_ui/formats'
import { HiddenField, VersionField } from '../../../_ui/hidden-field'
import { Notice } from '../../../_ui/notes'
import { Sheet } from '../../../_ui/sheet'
import { SubmitButton } from '../../../_ui/submit-button'
import { makeReadyAction, sayReadyAction } from './actions'

/** What a bike lacks to be ready for sale, or lacks again although it is, each with the way to where it is put right. */
export function ReadyPanel({ ready, roles }: { ready: ReadyShown; roles: readonly Role[] }) {
  const { isReady, lacks, said, viewingNo, zone, version, bike } = ready
  const lacking = (about: ReadyLack['about']) => lacks.some((lack) => lack.about === about)
  return (
    <Sheet
      id="ready"
      title={isReady ? 'Ready' : 'To be ready'}
      sub={lacks.length === 0 ? 'Nothing is missing.' : `${countOf(lacks.length, 'thing')} missing.`}
    >
      {isReady && lacks.length > 0 && (
        <div className="mb-4">
          <Notice title="It was ready, and is not any more">
            A manager takes it back to the bench, where this is put right.
          </Notice>
        </div>
      )}
      <Lacks lacks={lacks} at={`/bikes/${viewingNo}`} />
      {said.length > 0 && (
        <ul className="mt-4 border-t border-rule pt-2">
          {said.map(({ point, note, who, at }) => (
            <li key={`${point} ${at}`}>
              <strong>{pointWords[point].said}:</strong> {who}, {formatInstant(at, zone)}
              {note && `. ${note}`}
            </li>
          ))}
        </ul>
      )}
      {mayDo(roles, 'ready:say') && (
        <div className="no-print mt-4 flex flex-col border-y border-rule">
          {lacking('second-person') && <Say bike={bike} point="second-person" />}
          {lacking('certificate') && <Say bike={bike} point="certificate" />}
        </div>
      )}
      {!isReady && mayDo(roles, 'bike:make-ready') && (
        <div className="no-print mt-4">
          <ActionForm action={makeReadyAction} label="Make it ready" done="It is ready.">
            <HiddenField name="bike" value={bike} />
            <VersionField version={version} />
            <div>
              <SubmitButton look={lacks.length === 0 ? 'main' : 'quiet'}>Make it ready</SubmitButton>
            </div>
          </ActionForm>
        </div>
      )}
    </Sheet>
  )
}

const pointWords = {
  'second-person': {
    said: 'Looked at a second time',
    summary: 'I looked it over a second time',
    label: 'What you saw',
    hint: 'Brakes, wheels, steering, lamps and every fastener the work touched. Your name stands beside it.',
    send: 'I checked it',
    required: false,
  },
  certificate: {
    said: 'Certificate',
    summary: 'It has its certificate',
    label: 'Number, and the day it runs out',
    hint: undefined,
    send: 'Write the certificate down',
    required: true,
  },
} as const

function Say({ bike, point }: { bike: string; point: keyof typeof pointWords }) {
  const { summary, label, hint, send, required } = pointWords[point]
  return (
    <Disclosure summary={<span className="font-semibold">{summary}</span>}>
      <ActionForm action={sayReadyAction} label={summary}>
        <HiddenField name="id" value={uuidv7()} />
        <HiddenField name="bike" value={bike} />
        <HiddenField name="point" value={point} />
        <Field name="note" label={label} hint={hint} required={required} maxLength={200} />
        <div>
          <SubmitButton>{send}</SubmitButton>
        </div>
      </ActionForm>
    </Disclosure>
  )
}

const groups: readonly { title: string; about: readonly ReadyLack['about'][] }[] = [
  { title: 'Before anything', about: ['identity'] },
  { title: 'On the bench', about: ['fault', 'work', 'open-state'] },
  { title: 'To check', about: ['check', 'torque'] },
  { title: 'At the end', about: ['ride', 'second-person', 'certificate'] },
]

function Lacks({ lacks, at }: { lacks: readonly ReadyLack[]; at: string }) {
  return (
    <div className="flex flex-col gap-3">
      {groups.map(({ title, about }) => {
        const mine = lacks.filter((lack) => about.includes(lack.about))
        const rest = mine.slice(shownAtFirst)
        return (
          mine.length > 0 && (
            <div key={title}>
              <h3>{title}</h3>
              <LackList lacks={mine.slice(0, shownAtFirst)} at={at} />
              {rest.length > 0 && (
                <Disclosure summary={`${rest.length} more`}>
                  <LackList lacks={rest} at={at} />
                </Disclosure>
              )}
            </div>
          )
        )
      })}
    </div>
  )
}

/** Of each group, so that a bike just put on the bench does not fill the page. */
const shownAtFirst = 4

function LackList({ lacks, at }: { lacks: readonly ReadyLack[]; at: string }) {
  return (
    <ul className="flex flex-col">
      {lacks.map((lack) => (
        <li key={`${lack.about} ${lack.key}`} className="border-b border-rule last:border-0">
          <LackLine lack={lack} href={placeOf(lack, at)} />
        </li>
      ))}
    </ul>
  )
}

function LackLine({ lack, href }: { lack: ReadyLack; href: string | null }) {
  if (href === null) return <p className="py-2">{lack.says}</p>
  return (
    <Link href={href} className="tap w-full">
      {lack.says}
    </Link>
  )
}

/** Where it is put right; null for what is said on this very panel, and for the ride. */
function placeOf({ about, key }: ReadyLack, at: string): string | null {
  switch (about) {
    case 'check':
    case 'torque':
      return `${at}/checks?check=${encodeURIComponent(key)}`
    case 'fault':
    case 'work':
      return `${at}/bench`
    case 'identity':
      return `${at}/identity`
    case 'open-state':
      return `${at}/bench#open`
    case 'ride':
    case 'second-person':
    case 'certificate':
      return null
  }
}
