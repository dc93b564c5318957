'use client'

import { useEffect, useRef, useState } from 'react'
import { useFormStatus } from 'react-dom'
import { FieldNotes } from './field'
import { described, useFormField } from './form-context'

const length = 6
const keys = ['1', '2', '3', '4', '5', '6', '7', '8', '9'] as const

/**
 * Six digits by large keys, for gloves, or by any keyboard: digits count wherever the focus stands, so that
 * no keyboard has to come up on a tablet. The sixth digit sends the form.
 */
export function PinPad() {
  const field = useFormField('pin')
  const [pin, setPin] = useState('')
  const { pending } = useFormStatus()
  const input = useRef<HTMLInputElement>(null)

  useEffect(() => {
    if (pin.length === length) input.current?.form?.requestSubmit()
  }, [pin])

  useEffect(() => {
    const typed = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey || event.target === input.current) return
      if (/^\d$/.test(event.key)) setPin((before) => withDigit(before, event.key))
      if (event.key === 'Backspace') setPin((before) => before.slice(0, -1))
    }
    document.addEventListener('keydown', typed)
    return () => document.removeEventListener('keydown', typed)
  }, [])

  return (
    <div className="flex flex-col gap-4">
      <div className="flex flex-col gap-1">
        <label htmlFor={field.id} className="font-semibold">
          PIN
        </label>
        <p id={`${field.id}-hint`} className="text-soft">
          Six digits; it is sent with the last one.
        </p>
        <input
          ref={input}
          id={field.id}
          name="pin"
          type="password"
          inputMode="numeric"
          autoComplete="off"
          maxLength={length}
          value={pin}
          readOnly={pending}
          onChange={(event) => setPin(event.target.value.replace(/\D/g, '').slice(0, length))}
          required
          aria-invalid={field.error !== null}
          aria-describedby={described(field, 'hint')}
          className="field-box text-center text-3xl tracking-[0.4em]"
        />
        <FieldNotes name="pin" />
      </div>
      <div className="grid grid-cols-3 gap-2">
        {keys.map((digit) => (
          <PadKey key={digit} onPress={() => setPin((before) => withDigit(before, digit))}>
            {digit}
          </PadKey>
        ))}
        <PadKey label="Clear all" small onPress={() => setPin('')}>
          Clear
        </PadKey>
        <PadKey onPress={() => setPin((before) => withDigit(before, '0'))}>0</PadKey>
        <PadKey
          label="Take the last digit back"
          small
          onPress={() => setPin((before) => before.slice(0, -1))}
        >
          Back
        </PadKey>
      </div>
    </div>
  )
}

function withDigit(pin: string, digit: string): string {
  return pin.length < length ? pin + digit : pin
}

function PadKey({
  label,
  small = false,
  onPress,
  children,
}: {
  label?: string
  small?: boolean
  onPress: () => void
  children: string
}) {
  return (
    <button
      type="button"
      aria-label={label}
      onClick={onPress}
      className={`btn-quiet min-h-18 ${small ? 'text-lg' : 'text-3xl'}`}
    >
      {children}
    </button>
  )
}
