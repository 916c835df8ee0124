/**
 * What a window of either host may load and do: its own files and nothing else. Sent as a header, because
 * `frame-ancestors` is ignored in a meta element (W3C Content Security Policy Level 3, 3.3).
 */
export const CONTENT_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data:",
  "font-src 'self'",
  "connect-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join("; ");

/** Headers of every answer of either host, refusals included. */
export const RESPONSE_HEADERS: Readonly<Record<string, string>> = Object.freeze({
  "content-security-policy": CONTENT_POLICY,
  "cache-control": "no-store",
  "cross-origin-opener-policy": "same-origin",
  "cross-origin-resource-policy": "same-origin",
  "permissions-policy":
    "camera=(), display-capture=(), geolocation=(), hid=(), microphone=(), serial=(), usb=()",
  "referrer-policy": "no-referrer",
  "x-content-type-options": "nosniff",
});
