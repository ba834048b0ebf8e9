/** Bytes that change hands between threads instead of being copied. */

/**
 * The buffers of all byte arrays in plain data that are theirs alone; a part of a larger buffer, which others may
 * still need, is left to be copied.
 */
export function ownBuffers(value: unknown): ArrayBuffer[] {
  const found = new Set<ArrayBuffer>();
  const look = (at: unknown): void => {
    if (ArrayBuffer.isView(at)) {
      const { buffer, byteLength } = at;
      if (buffer instanceof ArrayBuffer && buffer.byteLength === byteLength && byteLength > 0)
        found.add(buffer);
    } else if (typeof at === 'object' && at !== null) {
      for (const each of Object.values(at)) look(each);
    }
  };
  look(value);
  return [...found];
}
