import type { PersonVerb } from '../shop/who-may'

/**
 * Every route for tablets and programs, by method, and who may use it. A test compares this with the build and
 * with the verb of the door that each handler was made by.
 */
export const routes = {
  '/api/v1/sync': { POST: 'reading:add' },
  '/api/v1/photos': { POST: 'photo:add' },
  '/api/v1/photos/[photo]': { GET: 'bike:see' },
  '/api/v1/kept-pages': { GET: 'bike:see' },
  '/api/v1/catalogue/[kind]': { GET: 'catalogue:change' },
  '/api/v1/limits': { GET: 'bike:see' },
  '/api/v1/prices': { GET: 'price:note' },
  '/api/v1/pack': { GET: 'money:see' },
} as const satisfies Record<string, Partial<Record<'GET' | 'POST', PersonVerb>>>
