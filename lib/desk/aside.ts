import { Worker } from 'node:worker_threads'
import type { Aside } from '../shop/aside'
import type { InputOf, OutputOf, ReckoningName } from '../shop/reckonings'

const thread = new URL('./aside-thread.mjs', import.meta.url)
const allReckonings = new URL('../shop/reckonings.ts', import.meta.url)

/** Many times what a calculation takes: one that wants more has gone astray, and may not take the server with it. */
const mostMemory = { maxOldGenerationSizeMb: 768 }

type Asked = {
  name: ReckoningName
  input: unknown
  done: (output: never) => void
  failed: (why: Error) => void
}
type Told = { no: number; output: never } | { no: number; failed: { message: string; stack?: string } }

export type OpenAside = Aside & {
  /** Ends the thread; what was not worked out by then fails. */
  close(): Promise<void>
}

/**
 * A thread that works calculations out one after the other, so that no page waits for another's. It is handed one
 * at a time: where it ends by itself (no memory is left, a fault of the program), that one fails and the others are
 * worked out by a new thread.
 */
export function startAside({ reckonings = allReckonings }: { reckonings?: URL } = {}): OpenAside {
  const waiting: Asked[] = []
  let under: { no: number; asked: Asked } | null = null
  let last = 0
  let worker: Worker | null = null
  let closed = false

  const goOn = () => {
    if (under || closed) return
    const asked = waiting.shift()
    if (!asked) return
    last += 1
    under = { no: last, asked }
    try {
      worker ??= begin()
      worker.postMessage({ no: last, name: asked.name, input: asked.input })
    } catch (error) {
      end((one) => one.failed(error as Error))
    }
  }
  const end = (tell: (asked: Asked) => void) => {
    const ended = under
    under = null
    if (ended) tell(ended.asked)
    goOn()
  }
  const begin = () => {
    const begun = new Worker(thread, {
      workerData: { reckonings: reckonings.href },
      resourceLimits: mostMemory,
    })
    let why: unknown = null
    begun.on('message', (told: Told) => {
      if (told.no !== under?.no) return
      end((asked) => ('failed' in told ? asked.failed(asError(told.failed)) : asked.done(told.output)))
    })
    begun.on('error', (error) => {
      why = error
    })
    begun.on('exit', (code) => {
      if (worker === begun) worker = null
      if (closed) return
      end(({ name, failed }) =>
        failed(
          new Error(`The thread beside the pages ended with ${code} at ${name}.`, why ? { cause: why } : {}),
        ),
      )
    })
    return begun
  }

  // Reading its files takes it half a second, which the first to ask need not wait for.
  worker = begin()
  return {
    reckon<Name extends ReckoningName>(name: Name, input: InputOf<Name>) {
      return new Promise<OutputOf<Name>>((done, failed) => {
        if (closed) return failed(closing())
        waiting.push({ name, input, done, failed })
        goOn()
      })
    },
    async close() {
      closed = true
      const left = [...(under ? [under.asked] : []), ...waiting.splice(0)]
      under = null
      for (const { failed } of left) failed(closing())
      await worker?.terminate()
    },
  }
}

function closing(): Error {
  return new Error('The server is closing.')
}

function asError({ message, stack }: { message: string; stack?: string }): Error {
  const error = new Error(message)
  if (stack) error.stack = stack
  return error
}
