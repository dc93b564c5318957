'use client'

import { useActionState } from 'react'
import { emptyForm, type FormState } from '../../../../lib/web/form-state'
import { QrCode } from '../../../_ui/qr-code'
import { SubmitButton } from '../../../_ui/submit-button'
import { makeDeviceCodeAction } from './actions'

type Made = { code: string; expiresAt: string }

/** Makes a one-time code and shows it large, with a square code that opens the right page on the other device. */
export function DeviceCode({ address }: { address: string | null }) {
  const [state, send] = useActionState(makeDeviceCodeAction, emptyForm as FormState<Made>)
  return (
    <form action={send} aria-label="Code for a device" className="flex flex-col gap-4">
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
  )
}

function Code({ made: { code }, address }: { made: Made; address: string | null }) {
  return (
    <div className="flex flex-wrap items-start gap-6">
      <div className="flex flex-col gap-2">
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
