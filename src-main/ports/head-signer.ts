import type { Keychain } from "#core/contract/records/trail-signature.ts";

/**
 * A private key that the operating system's keychain keeps for this person on this computer. It never leaves whoever
 * implements this; the bench gets the public key and signatures alone. Keys as SPKI, DER, base64url.
 */
export interface HeadSigner {
  state(): Promise<Exclude<Keychain, "browser">>;
  /** The public key there is; null when there is none, or the keychain does not open it. */
  present(): Promise<string | null>;
  /** The public key there is, or one made now. @throws Error in words when the keychain cannot keep it */
  make(): Promise<string>;
  /** An Ed25519 signature, base64url; null where the key is another one or is not opened. */
  sign(publicKey: string, text: string): Promise<string | null>;
}
