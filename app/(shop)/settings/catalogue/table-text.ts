/** The table that a form brings: the file where one was chosen, else what was pasted. */
export async function tableText(form: FormData): Promise<string> {
  const file = form.get('file')
  if (file instanceof File && file.size > 0) return decoded(new Uint8Array(await file.arrayBuffer()))
  const pasted = form.get('table')
  return typeof pasted === 'string' ? pasted : ''
}

/** Office programs write UTF-8 or, still, the old code page of western Windows. */
function decoded(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes)
  } catch {
    return new TextDecoder('windows-1252').decode(bytes)
  }
}
