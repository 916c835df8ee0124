import { createHash, randomBytes, timingSafeEqual } from "node:crypto";

/**
 * Who may speak to the loopback host. An *invitation* is a one-time secret that travels in the fragment of an
 * address (never sent to a server, never in a log) and is exchanged once for a *session*, which the page keeps and sends
 * in a header until the program ends. Both are 256 random bits; only their digests are kept.
 */
export interface SessionTokens {
  /** A fresh invitation, as 43 base64url characters. */
  invite(): string;
  /** The session for this invitation, or null when it is unknown or was used before. */
  redeem(invitation: string): string | null;
  /** Whether this is a session of this program. */
  admits(session: string | undefined): boolean;
}

export function createSessionTokens(): SessionTokens {
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
    admits: (session) => session !== undefined && positionOf(sessions, session) >= 0,
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
