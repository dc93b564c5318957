'use client'

import { type ReactNode, type Ref, useId, useRef, useState } from 'react'

/** A second number that goes with the first, as the engine speed with the volts: the keys type where one tapped. */
export type BesideNumber = {
  label: ReactNode
  unit?: ReactNode
  hint?: ReactNode
  value: string
  problem?: string | null
  mostKeys: number
  box?: Ref<HTMLInputElement> | undefined
  onChange: (value: string) => void
}

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
  beside,
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
  beside?: BesideNumber
  onChange: (value: string) => void
  onEnter: () => void
}) {
  const [onBeside, setOnBeside] = useState(false)
  const main: Box = { label, unit, hint, value, problem, mostKeys, box, onChange }
  const typedIn = beside && onBeside ? beside : main
  const press = (key: string) => {
    if (typedIn.value.length < typedIn.mostKeys) typedIn.onChange(typedIn.value + key)
  }
  return (
    <form
      noValidate
      className="flex flex-col gap-2"
      onSubmit={(event) => {
        event.preventDefault()
        onEnter()
      }}
    >
      <div className={beside ? 'grid items-end gap-x-4 gap-y-2 sm:grid-cols-2' : 'flex flex-col gap-2'}>
        <NumberBox {...main} keyed={!onBeside && beside !== undefined} onFocus={() => setOnBeside(false)} />
        {beside && <NumberBox {...beside} keyed={onBeside} onFocus={() => setOnBeside(true)} />}
      </div>
      <fieldset className="grid grid-cols-3 gap-2">
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
            idle={typedIn !== main || /[.,]/.test(value)}
          >
            .
          </Key>
        ) : (
          <span />
        )}
        <Key onPress={() => press('0')}>0</Key>
        <Key
          says="Delete the last key"
          onPress={() => typedIn.onChange(typedIn.value.slice(0, -1))}
          idle={typedIn.value === ''}
        >
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

type Box = Omit<BesideNumber, 'problem'> & { problem?: string | null | undefined }

function NumberBox({
  label,
  unit,
  hint,
  value,
  problem,
  mostKeys,
  box,
  keyed,
  onChange,
  onFocus,
}: Box & {
  /** The big keys type here, and there is another box where they could. */
  keyed: boolean
  onFocus: () => void
}) {
  const id = useId()
  const own = useRef<HTMLInputElement>(null)
  const described = [hint ? `${id}-hint` : '', problem ? `${id}-problem` : ''].filter(Boolean).join(' ')
  return (
    <div className="flex min-w-0 flex-col gap-2">
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
          onFocus={onFocus}
          className={`field-box min-w-0 text-right text-3xl font-semibold ${keyed ? 'border-b-8 border-b-accent' : ''}`}
        />
        {unit && <span className="shrink-0 text-xl">{unit}</span>}
      </span>
      {problem && (
        <p id={`${id}-problem`} className="flex gap-2 font-semibold text-plum">
          <span aria-hidden="true">▸</span>
          {problem}
        </p>
      )}
    </div>
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
