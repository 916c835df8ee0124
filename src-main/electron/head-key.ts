import { createPrivateKey, createPublicKey, generateKeyPairSync, sign } from "node:crypto";
import { readFile, rename, writeFile } from "node:fs/promises";
import type { SafeStorage } from "electron";
import type { HeadSigner } from "../ports/head-signer.ts";
import type { HeadKeyOrder } from "./service-messages.ts";

/** What of `safeStorage` is used: its asynchronous part alone, for the other is gone in Electron 46. */
export type KeychainStorage = Pick<
  SafeStorage,
  "isAsyncEncryptionAvailable" | "encryptStringAsync" | "decryptStringAsync"
> &
  Partial<Pick<SafeStorage, "getSelectedStorageBackend">>;

interface KeptKey {
  readonly publicKey: string;
  /** The private key (PKCS #8, PEM) as the keychain sealed it, base64. */
  readonly sealed: string;
}

async function readKept(file: string): Promise<KeptKey | null> {
  try {
    const { publicKey, sealed } = JSON.parse(await readFile(file, "utf8")) as Record<string, unknown>;
    return typeof publicKey === "string" && typeof sealed === "string" ? { publicKey, sealed } : null;
  } catch {
    return null;
  }
}

async function keep(file: string, kept: KeptKey): Promise<void> {
  await writeFile(`${file}.partial`, JSON.stringify(kept), { mode: 0o600 });
  await rename(`${file}.partial`, file);
}

/**
 * The key for the heads of a bench, in the profile of its window: what seals it on Windows lies in that profile, so the
 * key would not open from another. To be asked once the application is ready. The keychain is asked once for its state,
 * for that may ask the person.
 * @param file where the sealed key lies, outside the bench
 */
export function createHeadKey(file: string, storage: KeychainStorage, platform: NodeJS.Platform): HeadSigner {
  let asked: Promise<"available" | "none" | "not secret"> | null = null;

  async function askState(): Promise<"available" | "none" | "not secret"> {
    const isAvailable = await storage.isAsyncEncryptionAvailable().catch(() => false);
    // On Linux alone there is that question, and its answer is no keychain at all for a desktop that is not known.
    const backend = platform === "linux" ? (storage.getSelectedStorageBackend?.() ?? "unknown") : null;
    if (backend === "basic_text") return "not secret";
    return isAvailable && backend !== "unknown" ? "available" : "none";
  }
  const state = (): ReturnType<typeof askState> => {
    asked ??= askState();
    return asked;
  };

  /** The private key as PEM; null where there is none or it is not opened. */
  async function opened(): Promise<{ publicKey: string; pem: string } | null> {
    const kept = await readKept(file);
    if (kept === null || (await state()) !== "available") return null;
    try {
      const { result: pem, shouldReEncrypt } = await storage.decryptStringAsync(
        Buffer.from(kept.sealed, "base64"),
      );
      // The file beside the sealed key says which one it is; it is believed only where that is true.
      const publicKey = createPublicKey(createPrivateKey(pem)).export({ type: "spki", format: "der" });
      if (publicKey.toString("base64url") !== kept.publicKey) return null;
      if (shouldReEncrypt) await seal(kept.publicKey, pem);
      return { publicKey: kept.publicKey, pem };
    } catch {
      return null;
    }
  }

  async function seal(publicKey: string, pem: string): Promise<void> {
    const sealed = (await storage.encryptStringAsync(pem)).toString("base64");
    await keep(file, { publicKey, sealed });
  }

  return {
    state,
    present: async () => (await opened())?.publicKey ?? null,
    async make() {
      const before = await opened();
      if (before !== null) return before.publicKey;
      if ((await state()) !== "available") throw new Error("the keychain keeps nothing");
      const pair = generateKeyPairSync("ed25519");
      const publicKey = pair.publicKey.export({ type: "spki", format: "der" }).toString("base64url");
      await seal(publicKey, pair.privateKey.export({ type: "pkcs8", format: "pem" }).toString());
      return publicKey;
    },
    async sign(publicKey, text) {
      const key = await opened();
      if (key?.publicKey !== publicKey) return null;
      return sign(null, Buffer.from(text, "utf8"), key.pem).toString("base64url");
    },
  };
}

/** Answers the service process, which has no keychain of its own. */
export function headKeyAnswers(key: HeadSigner): (order: HeadKeyOrder) => Promise<string | null> {
  return async (order) => {
    if (order.kind === "sign") return key.sign(order.publicKey, order.text);
    return key[order.kind]();
  };
}
