import { faultInNeeds } from './union'

/** Says at a key what is wrong there, and what to do. */
export type Problem = (path: PropertyKey[], message: string, hint: string) => void

type Operations = Readonly<Record<string, { needs: string[] }>>

const unknownHint = 'Add it to operations, or correct the name.'

/** Operations must name only each other, and not in a ring. */
export function checkOperations({ operations }: { operations: Operations }, problem: Problem): void {
  const fault = faultInNeeds(new Map(Object.entries(operations)))
  if (!fault) return
  const path = ['operations', fault.operation, 'needs', fault.at]
  if (fault.kind === 'unknown') {
    problem(path, `There is no operation ${fault.name}.`, unknownHint)
  } else {
    problem(
      path,
      `These operations need each other in a ring: ${fault.names.join(' → ')}.`,
      'Take one of these needs out.',
    )
  }
}

/** The operations that a job names must be there. */
export function checkNames(
  names: readonly string[],
  { operations, path, problem }: { operations: Operations; path: PropertyKey[]; problem: Problem },
): void {
  names.forEach((name, at) => {
    if (!Object.hasOwn(operations, name))
      problem([...path, at], `There is no operation ${name}.`, unknownHint)
  })
}
