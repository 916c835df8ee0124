import { createPublicKey, verify } from "node:crypto";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { createHeadKey, type KeychainStorage } from "#main/electron/head-key.ts";

let folder: string;
let file: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "linefall-key-"));
  file = join(folder, "trail-key.json");
});
afterEach(() => rmSync(folder, { recursive: true }));

interface Keychain extends KeychainStorage {
  isOpen: boolean;
  rotated: boolean;
  asked: number;
}

/** Seals under a secret of its own; another one's seal does not open. */
function keychain(
  secret: number,
  backend?: ReturnType<NonNullable<KeychainStorage["getSelectedStorageBackend"]>>,
) {
  const mixed = (bytes: Buffer): Buffer => Buffer.from(bytes.map((byte) => byte ^ secret));
  const one: Keychain = {
    isOpen: true,
    rotated: false,
    asked: 0,
    async isAsyncEncryptionAvailable() {
      one.asked += 1;
      return one.isOpen;
    },
    async encryptStringAsync(text) {
      if (!one.isOpen) throw new Error("not available");
      return Buffer.concat([Buffer.of(secret), mixed(Buffer.from(text))]);
    },
    async decryptStringAsync(sealed) {
      if (!one.isOpen || sealed[0] !== secret) throw new Error("Error while decrypting the ciphertext");
      return { result: mixed(sealed.subarray(1)).toString(), shouldReEncrypt: one.rotated };
    },
    ...(backend === undefined ? {} : { getSelectedStorageBackend: () => backend }),
  };
  return one;
}

const isSigned = (publicKey: string, text: string, signature: string): boolean => {
  const key = createPublicKey({ key: Buffer.from(publicKey, "base64url"), format: "der", type: "spki" });
  return verify(null, Buffer.from(text), key, Buffer.from(signature, "base64url"));
};

describe("the key for heads", () => {
  it("is made once, stays the same and signs; what lies on the disk is sealed", async () => {
    const key = createHeadKey(file, keychain(7), "darwin");
    expect(await key.present()).toBeNull();
    const publicKey = await key.make();
    expect(await key.make()).toBe(publicKey);
    const later = createHeadKey(file, keychain(7), "darwin");
    expect(await later.present()).toBe(publicKey);
    const signature = (await later.sign(publicKey, "a head")) ?? "";
    expect(isSigned(publicKey, "a head", signature)).toBe(true);
    expect(isSigned(publicKey, "another head", signature)).toBe(false);
    expect(readFileSync(file, "utf8")).not.toContain("PRIVATE");
  });

  it("of another account or computer does not open, and signs nothing in its name", async () => {
    const publicKey = await createHeadKey(file, keychain(7), "win32").make();
    const other = createHeadKey(file, keychain(9), "win32");
    expect(await other.present()).toBeNull();
    expect(await other.sign(publicKey, "a head")).toBeNull();
    const another = await other.make();
    expect(another).not.toBe(publicKey);
    expect(await other.sign(publicKey, "a head")).toBeNull();
  });

  it("is not believed where the file says another public key than the sealed one has", async () => {
    const publicKey = await createHeadKey(file, keychain(7), "darwin").make();
    const kept = JSON.parse(readFileSync(file, "utf8"));
    writeFileSync(
      file,
      JSON.stringify({ ...kept, publicKey: publicKey.replace(/.$/, "A").replace(/..$/, "BA") }),
    );
    expect(await createHeadKey(file, keychain(7), "darwin").present()).toBeNull();
    writeFileSync(file, "torn");
    expect(await createHeadKey(file, keychain(7), "darwin").present()).toBeNull();
  });

  it("is sealed anew where the keychain has a new key of its own", async () => {
    const storage = keychain(7);
    const publicKey = await createHeadKey(file, storage, "darwin").make();
    writeFileSync(file, readFileSync(file, "utf8").replace('"sealed"', '"old":1,"sealed"'));
    storage.rotated = true;
    expect(await createHeadKey(file, storage, "darwin").present()).toBe(publicKey);
    expect(readFileSync(file, "utf8")).not.toContain('"old"');
  });

  it.each([
    ["linux", "gnome_libsecret", true, "available"],
    ["linux", "kwallet6", true, "available"],
    ["linux", "basic_text", true, "not secret"],
    ["linux", "basic_text", false, "not secret"],
    ["linux", "unknown", true, "none"],
    ["linux", "gnome_libsecret", false, "none"],
    ["darwin", undefined, true, "available"],
    ["darwin", undefined, false, "none"],
    ["win32", undefined, true, "available"],
  ] as const)("on %s with %s, available %s: %s, asked once", async (platform, backend, isOpen, expected) => {
    const storage = keychain(7, backend);
    storage.isOpen = isOpen;
    const key = createHeadKey(file, storage, platform);
    expect([await key.state(), await key.state()]).toEqual([expected, expected]);
    expect(storage.asked).toBe(1);
    if (expected !== "available") await expect(key.make()).rejects.toThrow("keeps nothing");
  });
});
