import type { Problem } from '../work/operations.input'

type Resource = number | { capacity: number; clock?: string }

interface Checked {
  resources: Record<string, Resource>
  calendars: Record<string, [number, number][]>
  pace: Record<string, number>
}

export function capacityOf(resource: Resource): number {
  return typeof resource === 'number' ? resource : resource.capacity
}

export function clockOf(resource: Resource): string | undefined {
  return typeof resource === 'number' ? undefined : resource.clock
}

/** Calendars must ascend, and what names a calendar or a resource must name one that is there. */
export function checkResources(input: Checked, problem: Problem): void {
  checkCalendars(input, problem)
  for (const [name, resource] of Object.entries(input.resources)) {
    const clock = clockOf(resource)
    if (clock !== undefined) checkClock(clock, { input, path: ['resources', name, 'clock'], problem })
  }
  for (const name of Object.keys(input.pace)) {
    if (!Object.hasOwn(input.resources, name))
      problem(['pace', name], `There is no resource ${name}.`, 'Add it to resources, or correct the name.')
  }
}

export function checkClock(
  clock: string,
  { input, path, problem }: { input: Pick<Checked, 'calendars'>; path: PropertyKey[]; problem: Problem },
): void {
  if (!Object.hasOwn(input.calendars, clock))
    problem(path, `There is no calendar ${clock}.`, 'Add it to calendars, or correct the name.')
}

function checkCalendars({ calendars }: Checked, problem: Problem): void {
  for (const [name, times] of Object.entries(calendars)) {
    times.forEach(([from, to], at) => {
      const path = ['calendars', name, at]
      if (from >= to)
        problem(path, `This time opens at ${from} and closes at ${to}.`, 'Let it close after it opens.')
      const before = times[at - 1]
      if (before && from < before[1])
        problem(
          path,
          `This time opens at ${from}, before the one above it closes.`,
          'Put the times in order, none over another.',
        )
    })
  }
}
