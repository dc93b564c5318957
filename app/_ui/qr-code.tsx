import { encode } from 'uqr'

/** A text as a square code for a camera, drawn as one path. The text itself belongs beside it. */
export function QrCode({ text, label }: { text: string; label: string }) {
  const { data, size } = encode(text, { border: 2 })
  const path = data.flatMap((row, y) => row.map((dark, x) => (dark ? `M${x} ${y}h1v1h-1z` : ''))).join('')
  return (
    <svg
      role="img"
      aria-label={label}
      viewBox={`0 0 ${size} ${size}`}
      shapeRendering="crispEdges"
      className="w-full max-w-64 bg-white text-black"
    >
      <path d={path} fill="currentColor" />
    </svg>
  )
}
