import { readdirSync, readFileSync, statSync } from 'node:fs'
import { basename, dirname, join, normalize, relative } from 'node:path'
import { fileURLToPath } from 'node:url'
import ts from 'typescript'
import { describe, expect, it } from 'vitest'

const root = fileURLToPath(new URL('..', import.meta.url))

/** Which rooms a room may import from. `types` may be imported as types only. */
const doors = {
  app: { may: ['app', 'web', 'shop', 'core'], types: ['catalogue'] },
  web: { may: ['web', 'shop', 'core'], types: [] },
  shop: { may: ['shop', 'core', 'data', 'catalogue'], types: [] },
  core: { may: ['core'], types: [] },
  data: { may: ['data'], types: ['core'] },
  catalogue: { may: ['catalogue'], types: ['core'] },
  desk: { may: ['desk', 'web', 'shop', 'core', 'data', 'catalogue'], types: [] },
  prisma: { may: ['prisma'], types: [] },
  tests: {
    may: ['tests', 'app', 'web', 'shop', 'core', 'data', 'catalogue', 'desk', 'prisma'],
    types: [],
  },
} as const satisfies Record<string, { may: readonly string[]; types: readonly string[] }>

type Room = keyof typeof doors

/** A door opens the store and hands it on; it asks it nothing. */
const storeIsHandedOn = { from: 'web', file: 'lib/data/store' }

/** What a piece of screen may know beside other pieces: the shape of a form's answer, the same for all forms. */
const formShape = 'lib/web/form-state'

/** The way through the calculations: a folder may import from itself and from those before it. */
const wayThrough = ['quantity', 'codes', 'measure', 'checks', 'work', 'deal', 'plan', 'board']

/** Packages of pure mathematics the calculations may use; zod stands in the files of their inputs only. */
const mathsOfCore = [/^@stdlib\//, /^d3-array$/, /^fft\.js$/, /^highs$/]

/** What would let the calculations look at the clock, take a chance or reach out. */
const banned = [
  { pattern: /\bDate\s*\.\s*now\b/, name: 'Date.now' },
  { pattern: /\bnew\s+Date\s*(\(\s*\)|(?!\s*\())/, name: 'new Date() without an instant' },
  { pattern: /\bMath\s*\.\s*random\b/, name: 'Math.random' },
  { pattern: /\bperformance\s*\.\s*now\b/, name: 'performance.now' },
  { pattern: /\bprocess\s*\./, name: 'process' },
  { pattern: /\bfetch\s*\(/, name: 'fetch' },
]

type Import = { specifier: string; typeOnly: boolean; line: number }
type Source = { path: string; room: Room; text: string; imports: Import[]; tree: ts.SourceFile }

const sources = ['app', 'lib', 'prisma', 'tests'].flatMap(readSources)

describe('the house', () => {
  it('has rooms with files in them', () => {
    expect(new Set(sources.map(({ room }) => room))).toContain('core')
    expect(sources.flatMap(({ imports }) => imports).length).toBeGreaterThan(50)
  })

  it('lets imports go one way only', () => {
    expect(sources.flatMap((source) => source.imports.flatMap((one) => wrongDoor(source, one)))).toEqual([])
  })

  it('keeps the pieces of screen free of the shop', () => {
    const wrong = sources
      .filter(({ path }) => path.startsWith('app/_ui/'))
      .flatMap((source) =>
        insideImports(source)
          .filter(({ target }) => !target.startsWith('app/_ui/') && roomOf(target) !== 'core')
          .filter(({ target }) => target !== formShape)
          .map(
            ({ target, line }) => `${source.path}:${line} imports ${target}: hand it what it draws instead`,
          ),
      )
    expect(wrong).toEqual([])
  })

  it('keeps the calculations in the order of the way through', () => {
    expect(sources.filter(inCore).flatMap(againstTheWay)).toEqual([])
  })

  it('keeps the calculations pure', () => {
    expect(sources.filter(inCore).flatMap(impurities)).toEqual([])
  })

  it('lets the thread beside the pages know nothing but the calculations', () => {
    const reckonings = sources.filter(({ path }) => path === 'lib/shop/reckonings.ts')
    expect(reckonings).toHaveLength(1)
    expect(reckonings.flatMap(insideImports).filter(({ target }) => roomOf(target) !== 'core')).toEqual([])
  })

  it('lets the page away from the shop load nothing of the store, and no program of the server', () => {
    const byPath = new Map(sources.map((source) => [source.path.replace(/\.(tsx?|mjs)$/, ''), source]))
    const reached = new Map<string, string>()
    const walk = (source: Source) => {
      for (const { specifier, typeOnly } of source.imports) {
        if (typeOnly) continue
        const target = targetOf(source, specifier) ?? specifier
        if (reached.has(target)) continue
        reached.set(target, source.path)
        const next = byPath.get(target)
        // Of an action the browser loads its address alone.
        if (next && !next.text.startsWith("'use server'")) walk(next)
      }
    }
    const begin = sources.filter(({ path }) => path.startsWith('app/away/') && !path.endsWith('/page.tsx'))
    expect(begin.length).toBeGreaterThan(5)
    for (const source of begin) walk(source)
    expect(reached.has('lib/shop/deal-of')).toBe(true)
    const onServer = /^(node:|next\/headers|sharp|pino|better-sqlite3|@prisma|lib\/data|lib\/catalogue)/
    const wrong = [...reached].filter(([target]) => onServer.test(target) || target === 'lib/shop/deed')
    expect(wrong.map(([target, from]) => `${from} imports ${target}`)).toEqual([])
  })

  it('lets a calculation take only the type of its input schema', () => {
    const wrong = sources
      .filter((source) => inCore(source) && !source.path.endsWith('.input.ts'))
      .flatMap((source) =>
        source.imports
          .filter(({ specifier, typeOnly }) => specifier.endsWith('.input') && !typeOnly)
          .map(({ line, specifier }) => `${source.path}:${line} imports ${specifier}: use \`import type\``),
      )
    expect(wrong).toEqual([])
  })

  it('has no drawer for what belongs nowhere', () => {
    const drawers = /^(utils?|helpers?|common|misc|shared)$/
    const wrong = sources
      .map(({ path }) => path)
      .filter((path) => path.split('/').some((part) => drawers.test(part.replace(/\..*$/, ''))))
    expect(wrong).toEqual([])
  })

  it('has no index that only hands on', () => {
    const wrong = sources.filter(
      ({ path, tree }) =>
        /^index\.tsx?$/.test(basename(path)) &&
        tree.statements.length > 0 &&
        tree.statements.every((statement) => ts.isExportDeclaration(statement) && statement.moduleSpecifier),
    )
    expect(wrong.map(({ path }) => path)).toEqual([])
  })

  it.each([
    ['a page that asks the store', 'app/board/page.tsx', '../../lib/data/store', false, 'lib/shop'],
    ['a calculation that asks the shop', 'lib/core/deal/tax.ts', '../../shop/deed', true, 'lib/shop'],
    ['a deed that knows a door', 'lib/shop/deed.ts', '../web/cookies', false, 'lib/web'],
    ['a command that knows a page', 'lib/desk/server.ts', '../../app/layout', false, 'app'],
    ['a catalogue that calculates', 'lib/catalogue/jobs.ts', '../core/deal/tax', false, 'lib/core'],
    ['a door that knows the adapter', 'lib/web/pages.ts', '../data/adapter', false, 'lib/shop'],
  ])('names the room for %s', (_title, path, specifier, typeOnly, belongs) => {
    const source = parse(path, '')
    expect(wrongDoor(source, { specifier, typeOnly, line: 7 })).toEqual([
      expect.stringMatching(new RegExp(`^${path}:7 imports .*; .* belongs in ${belongs}$`)),
    ])
  })

  it.each([
    ['a default and named import', "import a, { type B } from './x'", [['./x', false]]],
    ['types in braces', "import { type A, type B } from './x'", [['./x', true]]],
    ['a type import', "import type A from './x'", [['./x', true]]],
    ['a side effect', "import './x.css'", [['./x.css', false]]],
    ['something handed on', "export { a } from './x'", [['./x', false]]],
    ['a type handed on', "export type { A } from './x'", [['./x', true]]],
    ['an import when needed', "const a = await import('./x')", [['./x', false]]],
    ['the type of a module', "let a: import('./x').A", [['./x', true]]],
    ['a word that only looks like one', 'const a = "import b from \'./x\'"', []],
  ])('reads %s', (_title, text, expected) => {
    const { imports } = parse('app/probe.ts', text)
    expect(imports.map(({ specifier, typeOnly }) => [specifier, typeOnly])).toEqual(expected)
  })

  it.each([
    ['new Date()', 1],
    ['new Date', 1],
    ['new Date(asOf)', 0],
    ['Date.UTC(2026, 1, 1)', 0],
    ['Date.now()', 1],
    ['Math.random()', 1],
    ['// the clock is never asked: no Date.now()', 0],
  ])('judges %s inside a calculation', (text, count) => {
    expect(impurities(parse('lib/core/deal/probe.ts', text))).toHaveLength(count)
  })
})

function wrongDoor(source: Source, { specifier, typeOnly, line }: Import): string[] {
  const target = targetOf(source, specifier)
  const to = target === null ? null : roomOf(target)
  if (target === null || to === null) return []
  const { may, types }: { may: readonly string[]; types: readonly string[] } = doors[source.room]
  if (may.includes(to) || (typeOnly && types.includes(to))) return []
  if (source.room === storeIsHandedOn.from && target === storeIsHandedOn.file) return []
  const belongs = to === 'data' ? 'shop' : to
  return [
    `${source.path}:${line} imports ${target}; ${folderOf(source.room)} may not look into ${folderOf(to)}: ` +
      `what this line does belongs in ${folderOf(belongs)}`,
  ]
}

function againstTheWay(source: Source): string[] {
  const from = wayThrough.indexOf(coreFolder(source.path))
  if (from < 0) return []
  return insideImports(source)
    .filter(({ target }) => {
      const to = wayThrough.indexOf(coreFolder(target))
      return roomOf(target) === 'core' && (to < 0 || to > from)
    })
    .map(
      ({ target, line }) =>
        `${source.path}:${line} imports ${target}, which comes later on the way through: ` +
        `the line belongs in lib/core/${coreFolder(target)}`,
    )
}

function impurities(source: Source): string[] {
  const packages = source.imports
    .filter(({ specifier }) => !specifier.startsWith('.'))
    .filter(({ specifier }) => !(specifier === 'zod' && source.path.endsWith('.input.ts')))
    .filter(({ specifier }) => !mathsOfCore.some((allowed) => allowed.test(specifier)))
    .map(
      ({ specifier, line }) =>
        `${source.path}:${line} imports ${specifier}: the line belongs outside lib/core`,
    )
  const code = withoutComments(source)
  const reaches = banned
    .filter(({ pattern }) => pattern.test(code))
    .map(({ name }) => `${source.path} uses ${name}: take it as an argument, or put the line in lib/shop`)
  return [...packages, ...reaches]
}

/** The code printed anew, so that a comment may say what the code may not do. */
function withoutComments({ tree }: Source): string {
  return ts.createPrinter({ removeComments: true }).printFile(tree)
}

function insideImports(source: Source): { target: string; line: number }[] {
  return source.imports.flatMap(({ specifier, line }) => {
    const target = targetOf(source, specifier)
    return target === null ? [] : [{ target, line }]
  })
}

/** The imported file as a path in the project, without its ending; null for a package. */
function targetOf({ path }: Source, specifier: string): string | null {
  if (!specifier.startsWith('.')) return null
  return normalize(join(dirname(path), specifier))
    .split('\\')
    .join('/')
}

function roomOf(path: string): Room | null {
  const parts = path.split('/')
  const name = parts[0] === 'lib' ? parts[1] : parts[0]
  return name !== undefined && name in doors ? (name as Room) : null
}

function folderOf(room: string): string {
  return ['app', 'prisma', 'tests'].includes(room) ? room : `lib/${room}`
}

function coreFolder(path: string): string {
  return path.split('/')[2] ?? ''
}

function inCore({ room }: Source): boolean {
  return room === 'core'
}

function readSources(folder: string): Source[] {
  return filesUnder(join(root, folder))
    .map((file) => relative(root, file).split('\\').join('/'))
    .filter((path) => /\.(tsx?|mjs)$/.test(path) && !path.startsWith('lib/data/generated/'))
    .map((path) => parse(path, readFileSync(join(root, path), 'utf8')))
}

function filesUnder(path: string): string[] {
  if (statSync(path).isFile()) return [path]
  return readdirSync(path).flatMap((entry) => filesUnder(join(path, entry)))
}

function parse(path: string, text: string): Source {
  const room = roomOf(path)
  if (room === null) throw new Error(`${path} stands in no room of the house.`)
  const tree = ts.createSourceFile(path, text, ts.ScriptTarget.ES2022, true)
  const imports: Import[] = []
  const visit = (node: ts.Node): void => {
    const found = importOf(node)
    if (found)
      imports.push({ ...found, line: tree.getLineAndCharacterOfPosition(node.getStart(tree)).line + 1 })
    ts.forEachChild(node, visit)
  }
  visit(tree)
  return { path, room, text, imports, tree }
}

function importOf(node: ts.Node): Omit<Import, 'line'> | null {
  if (ts.isImportDeclaration(node)) {
    return { specifier: textOf(node.moduleSpecifier), typeOnly: bringsTypesOnly(node.importClause) }
  }
  if (ts.isExportDeclaration(node) && node.moduleSpecifier) {
    const named = node.exportClause && ts.isNamedExports(node.exportClause) ? node.exportClause.elements : []
    const allTypes = named.length > 0 && named.every((one) => one.isTypeOnly)
    return { specifier: textOf(node.moduleSpecifier), typeOnly: node.isTypeOnly || allTypes }
  }
  if (ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword) {
    const [first] = node.arguments
    return first && ts.isStringLiteral(first) ? { specifier: first.text, typeOnly: false } : null
  }
  if (ts.isImportTypeNode(node) && ts.isLiteralTypeNode(node.argument)) {
    return { specifier: textOf(node.argument.literal), typeOnly: true }
  }
  return null
}

function bringsTypesOnly(clause: ts.ImportClause | undefined): boolean {
  if (!clause) return false
  if (clause.isTypeOnly) return true
  const named = clause.namedBindings
  if (clause.name || !named || !ts.isNamedImports(named)) return false
  return named.elements.length > 0 && named.elements.every((one) => one.isTypeOnly)
}

function textOf(node: ts.Node): string {
  return ts.isStringLiteral(node) ? node.text : ''
}
