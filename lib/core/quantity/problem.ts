export type Path = ReadonlyArray<string | number>

/**
 * The one known error of the calculations: something in the input cannot be calculated with.
 * `path` leads to the deepest offending key of the input, `hint` says what to do next.
 * Anything else that is thrown is a fault of the program.
 */
export class CalcProblem extends Error {
  readonly path: Path
  readonly hint: string

  constructor(message: string, where: { path: Path; hint: string }) {
    super(message)
    this.name = 'CalcProblem'
    this.path = where.path
    this.hint = where.hint
  }
}
