/** As the server keeps it: no longer side survives there, so nothing is lost by sending no more. */
const longestSide = 2400
const quality = 0.82

/**
 * Makes a photo smaller before it is kept on this device and sent: weeks of full-size photos would fill a tablet, and
 * wifi in a workshop is slow. Where the browser cannot read it, or it would not become smaller, it stays as it is; the
 * server decides then.
 */
export async function shrunk(photo: Blob): Promise<Blob> {
  try {
    // Turned the way it was held: what the camera noted about that goes with the rest of its notes.
    const picture = await createImageBitmap(photo, { imageOrientation: 'from-image' })
    try {
      const drawn = await drawnSmaller(picture)
      return drawn && drawn.size < photo.size ? drawn : photo
    } finally {
      picture.close()
    }
  } catch {
    return photo
  }
}

/** Width and height within the longest side, in whole pixels, never enlarged. */
export function fitted({ width, height }: { width: number; height: number }): {
  width: number
  height: number
} {
  const by = Math.min(1, longestSide / Math.max(width, height))
  return { width: Math.max(1, Math.round(width * by)), height: Math.max(1, Math.round(height * by)) }
}

function drawnSmaller(picture: ImageBitmap): Promise<Blob | null> {
  const { width, height } = fitted(picture)
  const canvas = document.createElement('canvas')
  canvas.width = width
  canvas.height = height
  const brush = canvas.getContext('2d')
  if (!brush) return Promise.resolve(null)
  // A JPEG has no see-through; what was so becomes white, as on the server.
  brush.fillStyle = '#ffffff'
  brush.fillRect(0, 0, width, height)
  brush.drawImage(picture, 0, 0, width, height)
  return new Promise((done) => canvas.toBlob(done, 'image/jpeg', quality))
}
