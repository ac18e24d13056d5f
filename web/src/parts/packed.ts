// A text small enough for an address: deflated, in the 64 characters that addresses leave alone.

const MOST_CHARACTERS = 8000;
const MOST_BYTES = 100_000;

async function through(bytes: Uint8Array, stream: CompressionStream | DecompressionStream): Promise<Uint8Array> {
  const out = new Blob([bytes as BlobPart]).stream().pipeThrough(stream as ReadableWritablePair<Uint8Array, Uint8Array>).getReader();
  const parts: Uint8Array[] = [];
  let length = 0;
  for (let part = await out.read(); !part.done; part = await out.read()) {
    parts.push(part.value);
    length += part.value.length;
    if (length > MOST_BYTES) {
      await out.cancel();
      throw new Error('too long');
    }
  }
  const all = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

/** Empty where the browser cannot, or where it would be too long to send. */
export async function packed(text: string): Promise<string> {
  try {
    const bytes = await through(new TextEncoder().encode(text), new CompressionStream('deflate-raw'));
    const letters = btoa(String.fromCharCode(...bytes)).replace(/\+/g, '-').replace(/\//g, '_').replace(/=+$/, '');
    return letters.length <= MOST_CHARACTERS ? letters : '';
  } catch {
    return '';
  }
}

/** None where it was not packed here: cut off, changed, or blown up beyond what any profile needs. */
export async function unpacked(letters: string): Promise<string | undefined> {
  if (!/^[\w-]+$/.test(letters) || letters.length > MOST_CHARACTERS) return undefined;
  try {
    const bytes = Uint8Array.from(atob(letters.replace(/-/g, '+').replace(/_/g, '/')), (one) => one.charCodeAt(0));
    return new TextDecoder('utf-8', { fatal: true }).decode(await through(bytes, new DecompressionStream('deflate-raw')));
  } catch {
    return undefined;
  }
}
