import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'
import { units } from '../lib/core/quantity/units'
import { stages } from '../lib/shop/stage-names'
import { may } from '../lib/shop/who-may'
import { pages } from '../lib/web/pages'

const root = fileURLToPath(new URL('..', import.meta.url))
const read = (path: string) => readFileSync(join(root, path), 'utf8')

const documents = ['README.md', 'DEVELOPERS.md', 'lib/core/README.md', 'prisma/README.md', 'tests/README.md']
const all = documents.map(read).join('\n')

const scripts = Object.keys((JSON.parse(read('package.json')) as { scripts: object }).scripts)
const models = [...read('prisma/schema.prisma').matchAll(/^model (\w+)/gm)].map((match) => match[1] ?? '')

describe('what exists is told', () => {
  it.each(Object.keys(may))('the verb %s', (verb) => expect(all).toContain(`\`${verb}\``))
  it.each(units.map(String))('the unit %s', (unit) =>
    expect(read('lib/core/README.md')).toContain(`\`${unit}\``),
  )
  it.each(models)('the table %s', (model) => expect(read('prisma/README.md')).toContain(`\`${model}\``))
  it.each(stages.map(String))('the stage %s', (stage) => expect(read('app/_ui/words.ts')).toContain(stage))
  it.each(scripts)('the command npm run %s', (script) => {
    expect(all).toMatch(new RegExp(`npm (run (-s )?)?${script}\\b`))
  })
  it.each(environmentRead())('the setting %s', (name) => expect(all).toContain(`\`${name}\``))
  it.each(['app', 'prisma', 'tests', ...foldersOf('lib')])('the folder %s', (folder) => {
    expect(read('DEVELOPERS.md')).toContain(`\`${folder}/\``)
  })
  it('the addresses of pages, each with a verb or for anyone', () => {
    for (const verb of Object.values(pages)) expect(verb === 'anyone' || verb in may).toBe(true)
  })
})

describe('what is told exists', () => {
  it.each(documents)('in %s: every path and every link', (document) => {
    const text = read(document)
    const named = [...text.matchAll(/`((?:app|lib|prisma|tests)\/[\w./()[\]-]*)`/g)].map(
      (match) => match[1] ?? '',
    )
    const linked = [...text.matchAll(/\]\((?!https?:)([^)#]+)\)/g)].map((match) =>
      join(dirname(document), match[1] ?? ''),
    )
    const lost = [...named, ...linked].filter((path) => !existsSync(join(root, path)))
    expect(lost).toEqual([])
  })
})

/** The names of environment variables that our own code reads, apart from those every program has. */
function environmentRead(): string[] {
  const common = new Set(['NODE_ENV', 'PATH', 'CI', 'NEXT_TELEMETRY_DISABLED', 'PRISMA_SCHEMA_ENGINE_BINARY'])
  const names = sourceFiles('app')
    .concat(sourceFiles('lib'))
    .flatMap((path) =>
      [...read(path).matchAll(/process\.env\.([A-Z][A-Z_]+)/g)].map((match) => match[1] ?? ''),
    )
  return [...new Set(names)].filter((name) => !common.has(name)).sort()
}

function sourceFiles(folder: string): string[] {
  return readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.(ts|tsx|mjs)$/.test(name) && !name.includes('generated'))
    .map((name) => join(folder, name))
}

function foldersOf(folder: string): string[] {
  return readdirSync(join(root, folder))
    .filter((name) => statSync(join(root, folder, name)).isDirectory())
    .map((name) => `${folder}/${name}`)
}
