import fc from "fast-check";
import { expect, it } from "vitest";
import { Id, RequestId } from "#core/contract/records/primitives.ts";
import { RANDOM_BYTES_OF_AN_ID, timeOrderedId } from "#core/contract/time-ordered-id.ts";

const random = fc.uint8Array({ minLength: RANDOM_BYTES_OF_AN_ID, maxLength: RANDOM_BYTES_OF_AN_ID });
const instant = fc.integer({ min: 0, max: 2 ** 48 - 1 });

it("reads as the example of RFC 9562, appendix A.6 (from memory)", () => {
  // unix_ts_ms 0x017F22E279B0, rand_a 0xCC3, rand_b 0b01 0x8C4DC0C0C07398F.
  const bytes = Uint8Array.from([0x0c, 0xc3, 0x18, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f]);
  expect(timeOrderedId(0x017f22e279b0, bytes)).toBe("017f22e2-79b0-7cc3-98c4-dc0c0c07398f");
});

it("is a UUID of version 7 and an identifier of the contract, whatever the bytes", () => {
  fc.assert(
    fc.property(instant, random, (at, bytes) => {
      const id = timeOrderedId(at, bytes);
      expect(id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
      expect(Id.parse(id) + RequestId.parse(id)).toBe(id + id);
    }),
  );
});

it("sorts by the time it was made at", () => {
  fc.assert(
    fc.property(instant, instant, random, random, (one, other, first, second) => {
      fc.pre(one < other);
      expect(timeOrderedId(one, first) < timeOrderedId(other, second)).toBe(true);
    }),
  );
});

it("differs with every random bit it keeps", () => {
  fc.assert(
    fc.property(random, fc.integer({ min: 3, max: 9 }), (bytes, place) => {
      const other = Uint8Array.from(bytes);
      other[place] = (other[place] ?? 0) ^ 1;
      expect(timeOrderedId(0, other)).not.toBe(timeOrderedId(0, bytes));
    }),
  );
  expect(() => timeOrderedId(0, new Uint8Array(9))).toThrow(RangeError);
});
