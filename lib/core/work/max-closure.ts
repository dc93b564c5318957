/**
 * The best set of nodes that is closed under "needs": with each node come all it needs. Picard (1976): it is the
 * source side of a minimum cut where nodes of positive weight hang on the source, those of negative weight on the
 * sink, and needs are arcs that cannot be cut. Of several best sets the smallest is answered, which is contained in
 * all others. A node may be forced in or out, which only adds capacity, so that the flow so far is kept and added to.
 */
export interface ClosureProblem {
  /** Whole numbers within ± 1e12. */
  weights: readonly number[]
  /** For each node the nodes it needs. */
  needs: readonly (readonly number[])[]
}

/**
 * What a forced node hangs on: more than all weights together, so that no cut passes through it while another
 * exists. Where what is forced in needs what is forced out, it is cut all the same, and the set shows that.
 */
const uncuttable = 2 ** 52

export class ClosureFlow {
  private readonly nodes: number
  private readonly source: number
  private readonly sink: number
  /** Arcs in pairs, each followed by its reverse: where it leads, and what may still flow. */
  private readonly to: Int32Array
  private readonly left: Float64Array
  private readonly first: Int32Array
  private readonly next: Int32Array
  /** The arcs from the source to a node, and from a node to the sink. */
  private readonly fromSource: Int32Array
  private readonly toSink: Int32Array
  private readonly level: Int32Array
  private readonly place: Int32Array
  private readonly queue: Int32Array

  private constructor(parts: {
    nodes: number
    to: Int32Array
    left: Float64Array
    first: Int32Array
    next: Int32Array
    fromSource: Int32Array
    toSink: Int32Array
  }) {
    this.nodes = parts.nodes
    this.source = parts.nodes
    this.sink = parts.nodes + 1
    this.to = parts.to
    this.left = parts.left
    this.first = parts.first
    this.next = parts.next
    this.fromSource = parts.fromSource
    this.toSink = parts.toSink
    this.level = new Int32Array(parts.nodes + 2)
    this.place = new Int32Array(parts.nodes + 2)
    this.queue = new Int32Array(parts.nodes + 2)
  }

  static of({ weights, needs }: ClosureProblem): ClosureFlow {
    const nodes = weights.length
    const arcs = 2 * (2 * nodes + needs.reduce((sum, of) => sum + of.length, 0))
    const to = new Int32Array(arcs)
    const left = new Float64Array(arcs)
    const first = new Int32Array(nodes + 2).fill(-1)
    const next = new Int32Array(arcs)
    const fromSource = new Int32Array(nodes)
    const toSink = new Int32Array(nodes)
    let count = 0
    const arc = (from: number, target: number, capacity: number): number => {
      const made = count
      for (const [start, end, size] of [
        [from, target, capacity],
        [target, from, 0],
      ] as const) {
        to[count] = end
        left[count] = size
        next[count] = first[start]!
        first[start] = count
        count += 1
      }
      return made
    }
    weights.forEach((weight, node) => {
      fromSource[node] = arc(nodes, node, Math.max(0, weight))
      toSink[node] = arc(node, nodes + 1, Math.max(0, -weight))
    })
    needs.forEach((of, node) => {
      for (const needed of of) arc(node, needed, Number.POSITIVE_INFINITY)
    })
    const flow = new ClosureFlow({ nodes, to, left, first, next, fromSource, toSink })
    flow.push()
    return flow
  }

  /** The same with some nodes forced in and some out; this one stays as it is. */
  forced({ into, out }: { into: Iterable<number>; out: Iterable<number> }): ClosureFlow {
    const { nodes, to, first, next, fromSource, toSink } = this
    const flow = new ClosureFlow({
      nodes,
      to,
      left: this.left.slice(),
      first,
      next,
      fromSource,
      toSink,
    })
    for (const node of into) flow.left[fromSource[node]!] = uncuttable
    for (const node of out) flow.left[toSink[node]!] = uncuttable
    flow.push()
    return flow
  }

  /** The smallest best set: what still can be reached from the source. */
  chosen(): Uint8Array {
    this.levels()
    const chosen = new Uint8Array(this.nodes)
    for (let node = 0; node < this.nodes; node++) chosen[node] = this.level[node]! >= 0 ? 1 : 0
    return chosen
  }

  /** Dinic (1970): flow along shortest ways until none is left. */
  private push(): void {
    while (this.levels()) {
      this.place.set(this.first)
      while (this.alongOneWay(this.source, uncuttable) > 0);
    }
  }

  /** Distances from the source over what may still flow; whether the sink is reached. */
  private levels(): boolean {
    const { level, queue, first, next, to, left } = this
    level.fill(-1)
    level[this.source] = 0
    queue[0] = this.source
    let end = 1
    for (let at = 0; at < end; at++) {
      const node = queue[at]!
      for (let arc = first[node]!; arc >= 0; arc = next[arc]!) {
        const target = to[arc]!
        if (left[arc]! <= 0 || level[target]! >= 0) continue
        level[target] = level[node]! + 1
        queue[end] = target
        end += 1
      }
    }
    return level[this.sink]! >= 0
  }

  private alongOneWay(node: number, most: number): number {
    if (node === this.sink) return most
    for (let arc = this.place[node]!; arc >= 0; arc = this.next[arc]!) {
      this.place[node] = arc
      const target = this.to[arc]!
      if (this.left[arc]! <= 0 || this.level[target] !== this.level[node]! + 1) continue
      const flowed = this.alongOneWay(target, Math.min(most, this.left[arc]!))
      if (flowed > 0) {
        this.left[arc]! -= flowed
        this.left[arc ^ 1]! += flowed
        return flowed
      }
    }
    this.place[node] = -1
    return 0
  }
}
