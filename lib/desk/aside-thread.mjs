// The thread beside the pages, started by aside.ts. Plain JavaScript, since it must first learn to read TypeScript.
import { parentPort, workerData } from 'node:worker_threads'
import { register } from 'tsx/esm/api'

register()
const { reckonings } = await import(workerData.reckonings)
parentPort?.on('message', ({ no, name, input }) => {
  try {
    parentPort.postMessage({ no, output: reckonings[name](input) })
  } catch (error) {
    // Also where the answer is no plain value and cannot be copied.
    const { message = String(error), stack } = error instanceof Error ? error : {}
    parentPort.postMessage({ no, failed: { message, stack } })
  }
})
