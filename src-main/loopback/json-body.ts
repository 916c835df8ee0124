import type { IncomingMessage } from "node:http";
import { type Refusal, refusedInput } from "./request-guard.ts";

/** The most a request may carry; a pasted block of 10,000 readings needs about half of it. */
export const BODY_LIMIT = 1_048_576;

export type Body =
  | { readonly value: unknown; readonly refusal: null }
  | { readonly value: null; readonly refusal: Refusal };

/** Reads a JSON body of at most `BODY_LIMIT` bytes; listens no further than the first byte too many. */
export function readJsonBody(request: IncomingMessage): Promise<Body> {
  return new Promise((resolve) => {
    if (Number(request.headers["content-length"] ?? "0") > BODY_LIMIT) return resolve(tooLarge());
    const chunks: Buffer[] = [];
    let bytes = 0;
    request.on("data", (chunk: Buffer) => {
      bytes += chunk.length;
      if (bytes <= BODY_LIMIT) chunks.push(chunk);
      else {
        // Paused rather than destroyed: the refusal still has to go out on the same connection.
        request.pause();
        resolve(tooLarge());
      }
    });
    request.on("end", () => resolve(parsed(Buffer.concat(chunks))));
    request.on("error", () => resolve(unreadable()));
  });
}

function parsed(bytes: Buffer): Body {
  try {
    const text = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
    return { value: JSON.parse(text), refusal: null };
  } catch {
    return unreadable();
  }
}

function unreadable(): Body {
  return { value: null, refusal: refusedInput(400, "The request is not JSON text in UTF-8.") };
}

function tooLarge(): Body {
  return { value: null, refusal: refusedInput(413, "The request is larger than 1 MB: send it in parts.") };
}
