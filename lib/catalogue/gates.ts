import type { GateEvidence } from '../core/checks/catalogue'

/*
 * What opens the running and the road round, by how long an answer counts there. No published source gives such
 * hours; they are starting values after common practice: what can go wrong between two starts is looked at on
 * the day, what wears or works loose by riding is looked at again after a while, and work on a part ends its
 * answer at once. Whoever rides also starts, so petrol, oil and throttle guard both rounds.
 */

/**
 * Petrol finds a way out overnight: one day. A smell or a damp joint is a leak that nobody has found yet, and one
 * spark lights it: no reason stands in for dry.
 */
export const fuelGate: GateEvidence = { opens: ['running', 'road'], hours: 24, noReason: true }

/** Oil can drain, or petrol run into it, while a bike stands; a cable can freeze to its sheath: one day. */
export const engineGate: GateEvidence = { opens: ['running', 'road'], hours: 24 }

/** The place and the stance of the day: neutral, gas led away, extinguisher. */
export const placeGate: GateEvidence = { opens: ['running'], hours: 24 }

/** A brake that was firm yesterday may have lost its fluid: one day. */
export const brakeGate: GateEvidence = { opens: ['road'], hours: 24 }

/** Lamps and cut-outs fail from one day to the next, and trying them takes a minute. */
export const lampGate: GateEvidence = { opens: ['road'], hours: 24 }

/** A tyre loses a little air every day and picks up a nail on any: one week. */
export const tyreGate: GateEvidence = { opens: ['road'], hours: 24 * 7 }

/** What wears or works loose by riding, on a bike that is ridden only to be tried: a month. */
export const wearGate: GateEvidence = { opens: ['road'], hours: 24 * 30 }
