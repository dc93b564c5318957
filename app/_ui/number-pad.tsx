'use client'

import { type ReactNode, type Ref, useId, useRef } from 'react'

/**
 * A number typed with gloves: big keys, and a box that takes a keyboard's keys too without calling the
 * device's own keys up over the page. Enter, on either, takes the number.
 */
export function NumberPad({
  label,
  unit,
  value,
  problem,
  hint,
  decimals = true,
  negative = false,
  mostKeys = 9,
  enter,
  box,
  onChange,
  onEnter,
}: {
  label: ReactNode
  /** Stands behind the box. */
  unit?: ReactNode
  value: string
  problem?: string | null
  hint?: ReactNode
  decimals?: boolean
  negative?: boolean
  mostKeys?: number
  /** What the big key under the others says. */
  enter: ReactNode
  box?: Ref<HTMLInputElement>
  onChange: (value: string) => void
  onEnter: () => void
}) {
  const id = useId()
  const keysId = `${id}-keys`
  const own = useRef<HTMLInputElement>(null)
  const press = (key: string) => onChange(value.length < mostKeys ? value + key : value)
  const described = [hint ? `${id}-hint` : '', problem ? `${id}-problem` : ''].filter(Boolean).join(' ')
  return (
    <form
      noValidate
      className="flex flex-col gap-2"
      onSubmit={(event) => {
        event.preventDefault()
        onEnter()
      }}
    >
      <label htmlFor={id} className="font-semibold">
        {label}
      </label>
      {hint && (
        <p id={`${id}-hint`} className="text-soft">
          {hint}
        </p>
      )}
      <span className="flex items-center gap-3">
        <input
          ref={box ?? own}
          id={id}
          inputMode="none"
          autoComplete="off"
          enterKeyHint="done"
          value={value}
          maxLength={mostKeys}
          aria-invalid={Boolean(problem)}
          aria-describedby={described || undefined}
          onChange={(event) => onChange(event.target.value)}
          className="field-box min-w-0 text-right text-3xl font-semibold"
        />
        {unit && <span className="shrink-0 text-xl">{unit}</span>}
      </span>
      {problem && (
        <p id={`${id}-problem`} className="flex gap-2 font-semibold text-plum">
          <span aria-hidden="true">▸</span>
          {problem}
        </p>
      )}
      <fieldset id={keysId} className="grid grid-cols-3 gap-2">
        <legend className="sr-only">Keys</legend>
        {['7', '8', '9', '4', '5', '6', '1', '2', '3'].map((digit) => (
          <Key key={digit} onPress={() => press(digit)}>
            {digit}
          </Key>
        ))}
        {decimals ? (
          <Key
            says="Decimal point"
            onPress={() => press(value === '' ? '0.' : '.')}
            idle={/[.,]/.test(value)}
          >
            .
          </Key>
        ) : (
          <span />
        )}
        <Key onPress={() => press('0')}>0</Key>
        <Key says="Delete the last key" onPress={() => onChange(value.slice(0, -1))} idle={value === ''}>
          ⌫
        </Key>
        {negative && (
          <Key
            says="Change the sign"
            onPress={() => onChange(value.startsWith('-') ? value.slice(1) : `-${value}`)}
          >
            ±
          </Key>
        )}
      </fieldset>
      <button type="submit" className="btn text-lg">
        {enter}
      </button>
    </form>
  )
}

/** One key. An idle one says so and does nothing, but stays where a finger or Tab expects it. */
function Key({
  children,
  says,
  idle = false,
  onPress,
}: {
  children: ReactNode
  says?: string
  idle?: boolean
  onPress: () => void
}) {
  return (
    <button
      type="button"
      aria-label={says}
      aria-disabled={idle}
      onClick={() => {
        if (!idle) onPress()
      }}
      className="min-h-14 cursor-pointer rounded-sheet border-2 border-edge bg-sheet text-2xl font-semibold
        hover:border-ink active:bg-wash aria-disabled:cursor-default aria-disabled:border-rule
        aria-disabled:text-soft"
    >
      {children}
    </button>
  )
}
