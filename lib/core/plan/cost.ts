import type { Model } from './model'

/** When each bike is ready: the end of its last task, its release where it has none. */
export function readyTimes({ bikes, bikeOf }: Model, finish: Float64Array): Float64Array {
  const ready = Float64Array.from(bikes.release)
  for (let task = 0; task < finish.length; task++) {
    const bike = bikeOf[task]!
    if (finish[task]! > ready[bike]!) ready[bike] = finish[task]!
  }
  return ready
}

/** What is to be as small as can be: the last bike's ready time, or weights times ready times with lateness. */
export function costOf({ objective, bikes }: Model, ready: Float64Array): number {
  let cost = 0
  for (let bike = 0; bike < bikes.count; bike++) {
    const at = ready[bike]!
    if (objective === 'makespan') cost = Math.max(cost, at)
    else {
      cost += bikes.weight[bike]! * at
      if (at > bikes.due[bike]!) cost += bikes.late[bike]! * (at - bikes.due[bike]!)
    }
  }
  return cost
}
