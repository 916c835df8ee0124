/** Random bytes an identifier takes. */
export const RANDOM_BYTES_OF_AN_ID = 10;

/**
 * A UUID of version 7, RFC 9562 5.7: 48 bits of Unix time in milliseconds, then 74 random bits beside version and
 * variant. Identifiers made one after another are stored one beside another: random ones scatter over every index of
 * them, so that each reading of a long sheet writes to three times as many pages of the file.
 * @param milliseconds Unix time, ms
 * @param random `RANDOM_BYTES_OF_AN_ID` random bytes
 */
export function timeOrderedId(milliseconds: number, random: Uint8Array): string {
  if (random.length !== RANDOM_BYTES_OF_AN_ID) {
    throw new RangeError(`an identifier takes ${RANDOM_BYTES_OF_AN_ID} random bytes`);
  }
  const [first = 0, , third = 0] = random;
  const bytes = Uint8Array.from(random);
  bytes[0] = 0x70 | (first & 0x0f);
  bytes[2] = 0x80 | (third & 0x3f);
  const time = Math.floor(milliseconds).toString(16).padStart(12, "0");
  const rest = Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
  return [time.slice(0, 8), time.slice(8), rest.slice(0, 4), rest.slice(4, 8), rest.slice(8)].join("-");
}
