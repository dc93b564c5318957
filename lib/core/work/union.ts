/**
 * All operations that the named ones need, themselves included, each once, in the order of `operations`.
 * `operations` must name only each other and hold no cycle, which the schema has seen to.
 */
export function closureOf(
  names: readonly string[],
  operations: ReadonlyMap<string, { needs: readonly string[] }>,
): Set<string> {
  const reached = new Set<string>()
  const open = [...names]
  for (let name = open.pop(); name !== undefined; name = open.pop()) {
    if (reached.has(name)) continue
    reached.add(name)
    open.push(...operations.get(name)!.needs)
  }
  return reached
}

export type NeedsFault =
  | { kind: 'unknown'; operation: string; at: number; name: string }
  | { kind: 'cycle'; operation: string; at: number; names: readonly string[] }

/**
 * The first fault in what operations need: a name that is none of them, or a way that leads back to where it came
 * from. `at` is the place in the list of needs of `operation`. Null where all is well.
 */
export function faultInNeeds(
  operations: ReadonlyMap<string, { needs: readonly string[] }>,
): NeedsFault | null {
  for (const [operation, { needs }] of operations) {
    const at = needs.findIndex((name) => !operations.has(name))
    if (at >= 0) return { kind: 'unknown', operation, at, name: needs[at]! }
  }
  const done = new Set<string>()
  for (const first of operations.keys()) {
    const way: { operation: string; next: number }[] = [{ operation: first, next: 0 }]
    const onWay = new Set([first])
    while (way.length > 0) {
      const here = way[way.length - 1]!
      const needs = operations.get(here.operation)!.needs
      if (done.has(here.operation) || here.next === needs.length) {
        done.add(here.operation)
        onWay.delete(here.operation)
        way.pop()
        continue
      }
      const name = needs[here.next]!
      if (onWay.has(name)) {
        const names = way.map((step) => step.operation)
        names.splice(0, names.indexOf(name))
        return { kind: 'cycle', operation: here.operation, at: here.next, names: [...names, name] }
      }
      here.next += 1
      way.push({ operation: name, next: 0 })
      onWay.add(name)
    }
  }
  return null
}
