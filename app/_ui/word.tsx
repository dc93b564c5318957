import { type ReactNode, useId } from 'react'
import { type WordName, words } from './words'

/**
 * A word of the tool that explains itself at a tap or with Enter. The note is the browser's own popover, so
 * it needs no script and Escape closes it. Not inside a label or a link: it is a button itself.
 */
export function Word({ name, children }: { name: WordName; children?: ReactNode }) {
  const id = useId()
  const { word, says } = words[name]
  return (
    <>
      <button type="button" popoverTarget={id} className="word-button">
        {children ?? word}
        <span className="sr-only"> (what is this?)</span>
      </button>
      <span popover="auto" id={id} role="note" className="word-note">
        <strong className="block font-serif text-lg first-letter:uppercase">{word}</strong>
        <span className="block">{says}</span>
      </span>
    </>
  )
}
