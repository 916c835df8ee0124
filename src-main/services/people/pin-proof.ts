import { createHash, randomBytes, scrypt, timingSafeEqual } from "node:crypto";

/**
 * scrypt (RFC 7914) with N = 2^15, r = 8, p = 3: 32 MB and some tenths of a second for each guess. The parameters are
 * the middle line of the OWASP Password Storage Cheat Sheet's table for scrypt, from memory.
 */
const PARAMETERS = { N: 32_768, r: 8, p: 3 } as const;
const SCHEME = `scrypt N=${PARAMETERS.N} r=${PARAMETERS.r} p=${PARAMETERS.p}`;
const HASH_BYTES = 32;
const SALT_BYTES = 16;
/** 128·N·r bytes and some, by RFC 7914, 5. */
const MOST_MEMORY = 64 * 1024 * 1024;

export interface PinProof {
  readonly scheme: string;
  readonly salt: string;
  readonly hash: string;
}

function derive(pin: string, salt: Buffer): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    const options = { ...PARAMETERS, maxmem: MOST_MEMORY };
    scrypt(pin.normalize("NFKC"), salt, HASH_BYTES, options, (error, hash) =>
      error ? reject(error) : resolve(hash),
    );
  });
}

/** What is kept of a PIN: a salt of its own and the derived key; the PIN cannot be read back from it. */
export async function proofOfPin(pin: string): Promise<PinProof> {
  const salt = randomBytes(SALT_BYTES);
  const hash = await derive(pin, salt);
  return { scheme: SCHEME, salt: salt.toString("hex"), hash: hash.toString("hex") };
}

/** What the trail keeps of a proof: another proof has another seal, and nothing can be guessed from it that the proof does not give. */
export function sealOfProof({ scheme, salt, hash }: PinProof): string {
  return createHash("sha256").update(`${scheme} ${salt} ${hash}`, "utf8").digest("hex");
}

/** Compares in constant time. @throws Error for a scheme this program does not know */
export async function isPin(pin: string, proof: PinProof): Promise<boolean> {
  if (proof.scheme !== SCHEME) throw new Error(`a PIN was kept by an unknown scheme: ${proof.scheme}`);
  const hash = await derive(pin, Buffer.from(proof.salt, "hex"));
  const kept = Buffer.from(proof.hash, "hex");
  return kept.length === hash.length && timingSafeEqual(kept, hash);
}
