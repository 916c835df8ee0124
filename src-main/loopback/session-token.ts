import { createHash, randomBytes, timingSafeEqual } from "node:crypto";

/**
 * Who may speak to the loopback host. An *invitation* is a one-time secret that travels in the fragment of an
 * address (never sent to a server, never in a log) and is exchanged once for a *session*, which lives in an
 * HttpOnly cookie until the program ends. Both are 256 random bits; only their digests are kept.
 */
export interface SessionTokens {
  /** A fresh invitation, as 43 base64url characters. */
  invite(): string;
  /** The session for this invitation, or null when it is unknown or was used before. */
  redeem(invitation: string): string | null;
  /** Whether a Cookie header carries a session of this program. */
  admits(cookieHeader: string | undefined): boolean;
  /** The Set-Cookie value that carries a session. */
  cookieOf(session: string): string;
}

/** @param port names the cookie: cookies are shared by all ports of a host, and two benches may be open at once */
export function createSessionTokens(port: number): SessionTokens {
  const name = `linefall-${port}`;
  const invitations: Buffer[] = [];
  const sessions: Buffer[] = [];
  return {
    invite() {
      const token = freshToken();
      invitations.push(digestOf(token));
      return token;
    },
    redeem(invitation) {
      const at = positionOf(invitations, invitation);
      if (at < 0) return null;
      invitations.splice(at, 1);
      const session = freshToken();
      sessions.push(digestOf(session));
      return session;
    },
    admits(cookieHeader) {
      return valuesOf(cookieHeader, name).some((value) => positionOf(sessions, value) >= 0);
    },
    cookieOf: (session) => `${name}=${session}; HttpOnly; SameSite=Strict; Path=/`,
  };
}

function freshToken(): string {
  return randomBytes(32).toString("base64url");
}

function digestOf(token: string): Buffer {
  return createHash("sha256").update(token).digest();
}

/** Compares with every digest, in constant time each, whatever was found before. */
function positionOf(digests: readonly Buffer[], token: string): number {
  const wanted = digestOf(token);
  let found = -1;
  digests.forEach((digest, at) => {
    if (timingSafeEqual(digest, wanted)) found = at;
  });
  return found;
}

function valuesOf(cookieHeader: string | undefined, name: string): string[] {
  return (cookieHeader ?? "")
    .split(";")
    .map((part) => part.trim())
    .filter((part) => part.startsWith(`${name}=`))
    .map((part) => part.slice(name.length + 1));
}
