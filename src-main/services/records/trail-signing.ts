import { createHash } from "node:crypto";
import type { TrailHead } from "#core/contract/records/trail.ts";
import {
  type PrintedHead,
  SigningTold,
  signedLine,
  signedText,
  type TrailSigning,
  UNSIGNED,
} from "#core/contract/records/trail-signature.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { HeadSigner } from "../../ports/head-signer.ts";
import { type HeadSignature, noteTrailHead } from "../../store/bench-file/trail-anchor.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { lastOfBench, linesOfBench, trailHeadOf } from "../../store/repositories/audit-trail.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnceAbout } from "../write-context/in-transaction.ts";

const ACT = "trail.changeSigning";
/** A keychain may wait for its person; nothing that is to be noted waits for that. */
const MOST_WAIT_MS = 3000;

export const fingerprintOf = (publicKey: string): string =>
  createHash("sha256").update(Buffer.from(publicKey, "base64url")).digest("hex").slice(0, 16);

export interface NamedKey {
  readonly publicKey: string;
  readonly fingerprint: string;
  /** The line that named it, and when that was told. */
  readonly line: number;
  readonly since: string;
}

function keyOf(line: {
  readonly sequence: number;
  readonly at: string;
  readonly detail: string;
}): NamedKey | null {
  const { publicKey } = SigningTold.parse(JSON.parse(line.detail));
  return publicKey === null
    ? null
    : { publicKey, fingerprint: fingerprintOf(publicKey), line: line.sequence, since: line.at };
}

/** The key that heads are signed with; null where they are not. */
function keyInUse(db: ReadableDb): NamedKey | null {
  const line = lastOfBench(db, ACT);
  return line && keyOf(line);
}

/** Every key that the trail has named, in its order. */
export function namedKeys(db: ReadableDb): NamedKey[] {
  return linesOfBench(db, ACT)
    .map(keyOf)
    .filter((key) => key !== null);
}

/** The signature of a head at an instant; null where heads are not signed or the key does not open in time. */
export async function signatureOf(
  db: ReadableDb,
  signer: HeadSigner | null,
  head: TrailHead,
  at: string,
): Promise<HeadSignature | null> {
  const key = signer && keyInUse(db);
  if (!signer || !key) return null;
  const late = AbortSignal.timeout(MOST_WAIT_MS);
  const { promise, resolve } = Promise.withResolvers<null>();
  late.addEventListener("abort", () => resolve(null));
  const made = signer.sign(key.publicKey, signedText(head, at)).catch(() => null);
  const signature = await Promise.race([made, promise]);
  return signature === null ? null : { fingerprint: key.fingerprint, signature };
}

/** The head as an export names it, read before anything is waited for: signed, or in words why it is not. */
export async function printedHead(
  { clock, signer }: Pick<Deps, "clock" | "signer">,
  db: ReadableDb,
): Promise<PrintedHead> {
  const trailHead = trailHeadOf(db);
  if (trailHead === null) return { trailHead, headSigned: null };
  const hasKey = keyInUse(db) !== null;
  const at = clock.now();
  const signature = await signatureOf(db, signer, trailHead, at);
  if (signature) return { trailHead, headSigned: signedLine({ head: trailHead, at, ...signature }) };
  return { trailHead, headSigned: hasKey ? UNSIGNED.notOpened : UNSIGNED.noKey };
}

/** Notes beside the bench how far its trail goes, signed where that is wanted. @param db the bench as it stands in what was made */
export async function noteHead(
  { paths, clock, signer }: Pick<Deps, "paths" | "clock" | "signer">,
  db: ReadableDb,
): Promise<void> {
  const head = trailHeadOf(db);
  if (head === null) return;
  const at = clock.now();
  noteTrailHead(paths, { head, at, signature: await signatureOf(db, signer, head, at) });
}

async function signingOf({ db, signer }: Deps): Promise<TrailSigning> {
  const key = keyInUse(db);
  if (signer === null) return { keychain: "browser", key: shown(key), isHere: false };
  const keychain = await signer.state();
  const isHere = key !== null && (await signer.present()) === key.publicKey;
  return { keychain, key: shown(key), isHere };
}

const shown = (key: NamedKey | null): TrailSigning["key"] =>
  key && { fingerprint: key.fingerprint, since: key.since, line: key.line };

const NO_KEYCHAIN = {
  message: "There is no keychain here that could keep a key.",
  hint: "Heads stay unsigned. Open the bench in the desktop window of a computer with a keychain that is unlocked.",
};

async function keyFor({ signer }: Deps): Promise<string> {
  try {
    if (signer !== null) return await signer.make();
  } catch {
    // Locked, declined by its person, or gone: said below.
  }
  throw new Refusal("keychain.unavailable", NO_KEYCHAIN.message, { hint: NO_KEYCHAIN.hint });
}

export function trailSigningServices(deps: Deps) {
  return handlers({
    "trail.signing": () => signingOf(deps),

    "trail.changeSigning": async (input) => {
      const publicKey = input.on ? await keyFor(deps) : null;
      await inTransactionOnceAbout<{ readonly id: string }>(deps, "trail.changeSigning", input, {
        perform({ db, audit }) {
          if ((keyInUse(db)?.publicKey ?? null) !== publicKey) {
            audit({ act: ACT, subject: "bench", subjectId: "bench", detail: { publicKey } });
          }
          return { id: "bench" };
        },
        subjectOf: ({ id }) => id,
        find: (_, id) => ({ id }),
      });
      return signingOf(deps);
    },
  });
}
