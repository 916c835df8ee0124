import { createCipheriv, createDecipheriv, randomBytes } from "node:crypto";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { SafeStorage } from "electron";
import { theApp } from "./stand-in-app.ts";
import { note, state } from "./stand-in-state.ts";

type Asked = Pick<
  SafeStorage,
  "isAsyncEncryptionAvailable" | "encryptStringAsync" | "decryptStringAsync" | "getSelectedStorageBackend"
>;

/**
 * `safeStorage` as docs/api/safe-storage.md has it for Electron 45, as on Linux: which store there is is known once the
 * application is ready (`unknown` before); the asynchronous part is set up by its first call after that; what was sealed
 * under another profile or by another account does not open. LINEFALL_STAND_IN_KEYCHAIN says what kind of keychain the
 * desktop has: `gnome_libsecret`, `basic_text` (it seals, with a key that everybody knows), `locked`, or, as on a bare
 * desktop, none of them. The synchronous part is not here: it is gone in Electron 46.
 */
export class StandInSafeStorage implements Asked {
  readonly #kind = process.env.LINEFALL_STAND_IN_KEYCHAIN ?? "none";

  getSelectedStorageBackend(): ReturnType<SafeStorage["getSelectedStorageBackend"]> {
    if (!state.ready) return "unknown";
    return this.#kind === "gnome_libsecret" || this.#kind === "locked" ? "gnome_libsecret" : "basic_text";
  }
  async isAsyncEncryptionAvailable(): Promise<boolean> {
    this.#demandReady();
    note("isAsyncEncryptionAvailable");
    return this.#kind === "gnome_libsecret" || this.#kind === "basic_text";
  }
  async encryptStringAsync(plainText: string): Promise<Buffer> {
    const key = await this.#key("encrypting the text");
    const nonce = randomBytes(12);
    const cipher = createCipheriv("aes-256-gcm", key, nonce);
    const sealed = Buffer.concat([cipher.update(plainText, "utf8"), cipher.final()]);
    return Buffer.concat([Buffer.from("v11"), nonce, cipher.getAuthTag(), sealed]);
  }
  async decryptStringAsync(encrypted: Buffer): Promise<Electron.DecryptStringAsyncReturnValue> {
    const key = await this.#key("decrypting the ciphertext");
    try {
      const decipher = createDecipheriv("aes-256-gcm", key, encrypted.subarray(3, 15));
      decipher.setAuthTag(encrypted.subarray(15, 31));
      const result = decipher.update(encrypted.subarray(31), undefined, "utf8") + decipher.final("utf8");
      return { result, shouldReEncrypt: false };
    } catch {
      throw new Error("Error while decrypting the ciphertext provided to safeStorage.decryptStringAsync.");
    }
  }
  #demandReady(): void {
    if (!state.ready) throw new Error("safeStorage cannot be used before app is ready");
  }
  /** What the desktop's store keeps for this account and profile. */
  async #key(doing: string): Promise<Buffer> {
    if (!(await this.isAsyncEncryptionAvailable())) {
      throw new Error(`Error while ${doing}: encryption is not available.`);
    }
    if (this.#kind === "basic_text") return Buffer.alloc(32, "peanuts");
    const kept = join(theApp.getPath("userData"), "stand-in-keychain");
    if (!existsSync(kept)) writeFileSync(kept, randomBytes(32), { mode: 0o600 });
    return readFileSync(kept);
  }
}
