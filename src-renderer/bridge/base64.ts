/** Characters of one call of `String.fromCharCode`; more arguments than this overflow a stack. */
const STRIDE = 0x8000;

/** Bytes as base64 (RFC 4648, clause 4), with padding. */
export function base64Of(bytes: Uint8Array): string {
  let text = "";
  for (let from = 0; from < bytes.length; from += STRIDE) {
    text += String.fromCharCode(...bytes.subarray(from, from + STRIDE));
  }
  return btoa(text);
}

/** Joins parts of a base64 text; a part whose bytes are no multiple of three ends in padding and is decoded first. */
export function joinBase64(first: string, second: string): string {
  return first.endsWith("=") ? btoa(atob(first) + atob(second)) : first + second;
}
