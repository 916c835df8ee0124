import { createPublicKey, verify } from "node:crypto";
import { partsOfHead } from "#core/contract/records/trail.ts";
import {
  type SignaturesComparison,
  type SignedHead,
  signedText,
} from "#core/contract/records/trail-signature.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { namedKeys } from "./trail-signing.ts";

function agrees({ head, at, signature }: SignedHead, publicKey: string): boolean {
  try {
    const key = createPublicKey({ key: Buffer.from(publicKey, "base64url"), format: "der", type: "spki" });
    return verify(null, Buffer.from(signedText(head, at), "utf8"), key, Buffer.from(signature, "base64url"));
  } catch {
    return false;
  }
}

/** Holds signatures of heads against the keys that the trail names. That the heads are those of the trail is not asked here. */
export function compareSignatures(db: ReadableDb, signed: readonly SignedHead[]): SignaturesComparison {
  const keys = signed.length === 0 ? [] : namedKeys(db);
  const used = new Set<string>();
  const wrong: SignaturesComparison["wrong"] = [];
  const unknown: SignaturesComparison["unknown"] = [];
  let agreeing = 0;
  for (const one of signed) {
    const key = keys.find(({ fingerprint }) => fingerprint === one.fingerprint);
    if (!key) unknown.push({ ...partsOfHead(one.head), fingerprint: one.fingerprint });
    else if (!agrees(one, key.publicKey)) wrong.push(partsOfHead(one.head));
    else {
      agreeing += 1;
      used.add(key.fingerprint);
    }
  }
  const named = keys.filter(
    ({ fingerprint }, at) =>
      used.has(fingerprint) && keys.findIndex((one) => one.fingerprint === fingerprint) === at,
  );
  return { agreeing, keys: named.map(({ fingerprint, line }) => ({ fingerprint, line })), wrong, unknown };
}

/** What the comparison says, one sentence a line; what differs begins as every difference does. */
export function signaturesInWords({ agreeing, keys, wrong, unknown }: SignaturesComparison): string[] {
  const differing = [
    ...wrong.map(
      ({ sequence }) =>
        `DIFFERS  head of line ${sequence}: its signature was not made over it; head, instant or signature were changed`,
    ),
    ...unknown.map(
      ({ sequence, fingerprint }) =>
        `DIFFERS  head of line ${sequence}: signed with key ${fingerprint}, which this trail does not name; it is another bench’s, or this history was written anew`,
    ),
  ];
  if (agreeing === 0) return differing;
  const names = keys.map(({ fingerprint, line }) => `${fingerprint} (line ${line})`).join(", ");
  return [
    ...differing,
    `${countedNoun(agreeing, "signature")} agree${agreeing === 1 ? "s" : ""}; made with ${names}. Compare that key with one noted elsewhere: whoever writes a bench anew can name another.`,
  ];
}
