import { expect, it } from 'vitest'
import { inputOf, typedIn } from '../../lib/web/form-state'

function form(...fields: [string, string | File][]): FormData {
  const made = new FormData()
  for (const [name, value] of fields) made.append(name, value)
  return made
}

it('what was typed comes back, every ticked box of a list with it, but no secret and no file', () => {
  const sent = form(
    ['name', 'Tove'],
    ['roles[]', 'technician'],
    ['roles[]', 'dealer'],
    ['pin', '496273'],
    ['photo', new File(['x'], 'x.jpg')],
    ['$ACTION_ID', 'of the framework'],
  )
  expect(typedIn(sent, ['pin'])).toEqual({ name: 'Tove', 'roles[]': 'technician\ndealer' })
})

it('the fields of a form become one plain object: dots nest, brackets make a list', () => {
  const sent = form(
    ['kind.cooling', 'air'],
    ['kind.strokes', 'two'],
    ['roles[]', 'dealer'],
    ['$ACTION_ID', 'of the framework'],
  )
  expect(inputOf(sent)).toEqual({ kind: { cooling: 'air', strokes: 'two' }, roles: ['dealer'] })
})
