import { z } from "zod";
import { Instant } from "./primitives.ts";
import { NotedHead, type TrailHead } from "./trail.ts";

/** A public key for signatures (Ed25519, RFC 8032): SPKI as DER, base64url. */
export const PublicKey = z.string().regex(/^[A-Za-z0-9_-]{59}$/, "is not a public key");
/** The first 16 digits of the SHA-256 of a public key: short enough to note on paper. */
export const Fingerprint = z.string().regex(/^[0-9a-f]{16}$/);

/** What the trail tells of signing: `publicKey` null when signing ends. */
export const SigningTold = z.strictObject({ publicKey: PublicKey.nullable() });

/**
 * What the host can do: `available`; `none`: no keychain, or it is locked and stays so; `not secret`: Linux without a
 * known password store, where what is called encryption has a key that everybody knows; `browser`: the host has none.
 */
export const Keychain = z.enum(["available", "none", "not secret", "browser"]);
export type Keychain = z.infer<typeof Keychain>;

/** How the heads of the trail are signed on this bench now. */
export const TrailSigning = z.strictObject({
  keychain: Keychain,
  /** The key that heads are signed with; null: they are not signed. */
  key: z.strictObject({ fingerprint: Fingerprint, since: Instant, line: z.int() }).nullable(),
  /** Whether the keychain of this computer opens that key. */
  isHere: z.boolean(),
});
export type TrailSigning = z.infer<typeof TrailSigning>;

/** A head with its signature, as it stands on a line of `trail-heads.txt`. */
export interface SignedHead {
  readonly head: TrailHead;
  readonly at: string;
  readonly fingerprint: string;
  /** Base64url. */
  readonly signature: string;
}

const SIGNED =
  /(?<![\w:])([1-9]\d{0,11}:[0-9a-f]{64}) (\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z) signed ([0-9a-f]{16}) ([A-Za-z0-9_-]{86})(?![\w-])/g;

/** What a signature is made over. */
export const signedText = (head: TrailHead, at: string): string => `linefall trail head\n${head}\n${at}\n`;

/** A head and its instant with their signature; as `signedHeadsInText` reads it. */
export function signedLine({ head, at, fingerprint, signature }: SignedHead): string {
  return `${head} ${at} signed ${fingerprint} ${signature}`;
}

/** Every signed head in a text. */
export function signedHeadsInText(text: string): SignedHead[] {
  return [...text.matchAll(SIGNED)].map(([, head = "", at = "", fingerprint = "", signature = ""]) => ({
    head,
    at,
    fingerprint,
    signature,
  }));
}

/** What stands before a signed head in an export. */
export const HEAD_SIGNED_LABEL = "Its signature";

/** In the place of a signature that an export does not bear. */
export const UNSIGNED = {
  noKey: "Not signed: no key for heads stands on this bench.",
  notOpened: "Not signed: the bench’s key for heads did not open here.",
} as const;

const UNSIGNED_WORDS: readonly string[] = Object.values(UNSIGNED);

/** Whether a text is what stands beside the head of an export: that head signed, or why it is not. */
export const isHeadSigned = (text: string): boolean =>
  UNSIGNED_WORDS.includes(text) || signedHeadsInText(text).length === 1;

/** The head of the trail as an export names it. */
export interface PrintedHead {
  /** null for a bench or a file that names none. */
  readonly trailHead: TrailHead | null;
  /** The head with its signature as `signedLine` writes it, or one of `UNSIGNED`; null where there is no head. */
  readonly headSigned: string | null;
}

/** Signatures in a text held against the keys that the trail names. */
export const SignaturesComparison = z.strictObject({
  /** How many agree, and the keys they were made with, in the order of the trail. */
  agreeing: z.int(),
  keys: z.array(z.strictObject({ fingerprint: Fingerprint, line: z.int() })),
  /** Made with a key of the trail over something else: head or instant were changed. */
  wrong: z.array(NotedHead),
  /** Made with a key that the trail does not name. */
  unknown: z.array(NotedHead.extend({ fingerprint: Fingerprint })),
});
export type SignaturesComparison = z.infer<typeof SignaturesComparison>;
