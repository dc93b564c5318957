'use client'

import { useActionState, useId } from 'react'
import { emptyForm, type FormState } from '../../../../lib/web/form-state'
import { RadioField } from '../../../_ui/choice-fields'
import { FormContext } from '../../../_ui/form-context'
import { QrCode } from '../../../_ui/qr-code'
import { SubmitButton } from '../../../_ui/submit-button'
import { makeDeviceCodeAction } from './actions'

type Made = { code: string; expiresAt: string; owner: string | null }

const forTheBench = {
  value: '',
  label: 'For the bench',
  hint: 'Anybody signs in. It keeps no money of a bike.',
}

/**
 * Makes a one-time code, for the bench or for somebody's own device, and shows it large, with a square code that opens
 * the right page on the other device.
 */
export function DeviceCode({
  address,
  owners,
}: {
  address: string | null
  owners: readonly { id: string; name: string }[]
}) {
  const [state, send] = useActionState(makeDeviceCodeAction, emptyForm as FormState<Made>)
  const prefix = useId()
  const choices = [
    forTheBench,
    ...owners.map(({ id, name }) => ({
      value: id,
      label: `${name}\u2019s own`,
      hint: `Keeps ${name}\u2019s open viewings with their prices, for where there is no network.`,
    })),
  ]
  return (
    <FormContext value={{ prefix, state }}>
      <form action={send} aria-label="Code for a device" className="flex flex-col gap-4">
        <div key={state.turn} className="contents">
          <RadioField name="owner" label="Whose is it?" defaultValue="" required choices={choices} />
        </div>
        <div>
          <SubmitButton look="quiet" pending="Making one …">
            {state.answer ? 'Make another code' : 'Make a code for a device'}
          </SubmitButton>
        </div>
        <div role="status">
          {state.message && <p className="font-semibold text-plum">{state.message}</p>}
          {state.answer && <Code made={state.answer} address={address} />}
        </div>
      </form>
    </FormContext>
  )
}

function Code({ made: { code, owner }, address }: { made: Made; address: string | null }) {
  return (
    <div className="flex flex-wrap items-start gap-6">
      <div className="flex flex-col gap-2">
        <p className="font-semibold">
          {owner === null ? 'For a device of the bench' : `For ${owner}\u2019s own device`}
        </p>
        <p className="text-soft">Type this on the other device. It works once, for half an hour.</p>
        <p className="total self-start whitespace-nowrap text-2xl font-semibold tracking-wider sm:text-4xl">
          {code}
        </p>
        {address ? (
          <p>
            There, open <strong className="break-all">{address}/sign-in</strong>
          </p>
        ) : (
          <p>There, open the network address that the terminal shows.</p>
        )}
        {address?.startsWith('https:') && (
          <p className="text-soft">
            Where a warning comes instead, open{' '}
            <strong className="wrap-anywhere">{address.replace('https:', 'http:')}/trust</strong> first.
          </p>
        )}
      </div>
      {address && (
        <QrCode
          text={`${address}/sign-in?code=${code}`}
          label="Square code: opens the sign-in page with this code filled in"
        />
      )}
    </div>
  )
}
