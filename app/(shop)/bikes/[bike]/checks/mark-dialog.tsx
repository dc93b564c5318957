import { useRef, useState } from 'react'
import type { PhotoMark } from '../../../../../lib/shop/photo-marks'
import { ActionForm } from '../../../../_ui/action-form'
import { formHere } from '../../../form-here'
import { MarkEditor } from '../photos/marks/mark-editor'
import type { SeenPhoto } from './photos-seen'
import { useLargePicture } from './use-picture'

/** Draws on one photo over the check, with or without a network: what is drawn goes the way of every reading. */
export function MarkDialog({
  photo: given,
  size,
  title,
  onDraw,
  onClose,
}: {
  photo: SeenPhoto
  size: { width: number; height: number }
  /** Of the check. */
  title: string
  onDraw: (photo: SeenPhoto, marks: readonly PhotoMark[]) => void
  onClose: () => void
}) {
  const dialog = useRef<HTMLDialogElement>(null)
  // As it was when the drawing began: it is no answer to what somebody else draws meanwhile.
  const [photo] = useState(given)
  const src = useLargePicture(given)

  /** What the editor makes is whole; the server checks it like everything that is sent. */
  const save = formHere(({ marks }) => {
    onDraw(photo, JSON.parse(String(marks)) as readonly PhotoMark[])
    dialog.current?.close()
  })

  return (
    <dialog
      ref={(element) => {
        dialog.current = element
        if (element && !element.open) element.showModal()
      }}
      onClose={onClose}
      aria-labelledby="mark-title"
      className="m-auto max-h-[calc(100dvh-1rem)] w-[calc(100dvw-1rem)] max-w-6xl scroll-pb-40 border-2 border-ink bg-sheet px-4 pt-4 text-ink backdrop:bg-black/60"
    >
      <h2 id="mark-title" className="mb-3">
        Mark the photo: {title}
      </h2>
      {src && (
        <ActionForm action={save} label="Marks" doneHere>
          <MarkEditor src={src} {...size} stored={JSON.stringify(photo.marks)}>
            <button type="button" className="btn-quiet" onClick={() => dialog.current?.close()}>
              Leave it as it was
            </button>
          </MarkEditor>
        </ActionForm>
      )}
    </dialog>
  )
}
