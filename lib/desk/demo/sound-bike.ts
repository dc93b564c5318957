import { type BikeKind, fitsKind } from '../../core/checks/bike-kind'
import type { Catalogue, Check, CodeCheck, Round } from '../../core/checks/catalogue'
import { tyreDate } from '../../core/codes/tyre-date'
import { addDays, yearOf } from '../../core/quantity/days'
import type { Taken } from './story'

/** What a well-kept machine reads. Invented, for the demo alone; a check that is not here is a look or a code. */
const values: Readonly<Record<string, string>> = {
  'throttle-free-play': '4',
  'battery-rest-volts': '12.75',
  'tread-front': '4.2',
  'tread-rear': '4.6',
  'rim-front-cast': '0.4',
  'rim-rear-cast': '0.5',
  'rim-front-spoked': '0.8',
  'rim-rear-spoked': '0.9',
  'rim-front-steel': '1.2',
  'rim-rear-steel': '1.4',
  'tyre-pressure-front': '248',
  'tyre-pressure-rear': '262',
  'battery-drain': '0.6',
  'battery-density': '1.27',
  'pads-front-twin': '4.1',
  'pads-front-single': '4.1',
  'pads-rear': '4.4',
  'disc-front-left': '4.92',
  'disc-front-right': '4.91',
  'disc-front': '4.92',
  'disc-rear': '4.88',
  'disc-run-out-front': '0.06',
  'disc-run-out-rear': '0.05',
  'chain-slack': '34',
  'chain-length': '318.5',
  'chain-length-light': '255',
  'shaft-lash': '6',
  compression: '1165',
  'idle-speed': '1085',
  'oil-pressure': '410',
  'brake-tester-stronger': '58',
  'brake-tester-weaker': '34',
  'fuel-age': '1',
  'battery-cranking-volts': '10.9',
  'charging-idle-volts': '13.4',
  'charging-speed-volts': '14.3',
  'keys-counted': '2',
  'torque-front-axle': '65',
  'torque-rear-axle': '98',
  'torque-calipers-front-twin': '35',
  'torque-caliper-front-single': '35',
  'torque-caliper-rear': '30',
  'torque-brake-arm': '25',
  'torque-steering-stem': '110',
}

/** The checks of some rounds on a bike, each with what a sound one shows, but for what was found on this one. */
export function soundExcept(asked: {
  catalogue: Catalogue
  kind: BikeKind
  rounds: readonly Round[]
  short: boolean
  except: readonly string[]
  found: readonly Taken[]
  distance: string
  today: string
}): Taken[] {
  const { catalogue, kind, rounds, short, except, found, distance, today } = asked
  return catalogue.checks
    .filter((check) => rounds.includes(check.round) && fitsKind(kind, check.appliesTo))
    .filter((check) => !except.includes(check.key) && (!short || check.short || isFound(check, found)))
    .flatMap((check) => {
      const own = found.filter((taken) => taken.check === check.key)
      return own.length > 0 ? own : [{ check: check.key, value: soundValue(check, { distance, today }) }]
    })
}

function isFound(check: Check, found: readonly Taken[]): boolean {
  return found.some((taken) => taken.check === check.key)
}

function soundValue(check: Check, { distance, today }: { distance: string; today: string }): string {
  if (check.sort === 'code') return soundCode(check, today)
  if (check.sort === 'look') {
    const good = check.answers.find((answer) => answer.tone === 'good')
    if (!good) throw new Error(`${check.key} has no good answer`)
    return good.key
  }
  const value = check.key === 'distance-shown' ? distance : values[check.key]
  if (value === undefined) throw new Error(`what a sound bike reads at ${check.key} is not told`)
  return value
}

function soundCode(check: CodeCheck, today: string): string {
  switch (check.code) {
    case 'tyre-date':
      return tyreCodeOf(addDays(today, -700))
    case 'tyre-size':
      return check.key === 'tyre-size-front' ? '120/70 ZR17 M/C (58W)' : '180/55 ZR17 M/C (73W)'
    // Year and month: recent enough for whatever is due by its age.
    case 'done-on':
      return addDays(today, -200).slice(0, 7)
  }
}

/** The code on a tyre made on a day. */
export function tyreCodeOf(day: string): string {
  const year = String(yearOf(day) % 100).padStart(2, '0')
  for (let week = 1; week <= 53; week += 1) {
    const code = `${String(week).padStart(2, '0')}${year}`
    const made = readable(code, day)
    if (made?.from && made.to && made.from <= day && day <= made.to) return code
  }
  // The days before a year's first Sunday belong to the year before.
  return tyreCodeOf(addDays(day, -7))
}

function readable(code: string, asOf: string) {
  try {
    return tyreDate({ code, asOf })
  } catch {
    return null
  }
}
