import { generateKeyPairSync, type KeyPairKeyObjectResult, sign } from "node:crypto";
import type { HeadSigner } from "#main/ports/head-signer.ts";

/** A real key that is kept nowhere: as a keychain that is open, without a keychain. */
export function headSignerInMemory(): HeadSigner {
  let pair: KeyPairKeyObjectResult | null = null;
  const publicKey = (): string | null =>
    pair?.publicKey.export({ type: "spki", format: "der" }).toString("base64url") ?? null;
  return {
    state: async () => "available",
    present: async () => publicKey(),
    async make() {
      pair ??= generateKeyPairSync("ed25519");
      return publicKey() ?? "";
    },
    sign: async (of, text) =>
      pair && of === publicKey()
        ? sign(null, Buffer.from(text), pair.privateKey).toString("base64url")
        : null,
  };
}
