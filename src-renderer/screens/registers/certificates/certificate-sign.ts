import type { CertificateSign } from "#core/vocabulary/calibration.ts";

/** What a certificate's second column may hold, said so that a person can tell by looking at the page. */
export const SIGN_WORDS: Readonly<
  Record<CertificateSign, { readonly short: string; readonly long: string }>
> = {
  position: {
    short: "position of each line",
    long: "Where each line really stands. The line marked 500 has a number close to 500, such as 500.2.",
  },
  error: {
    short: "error: certified − marked",
    long: "The error, certified minus marked value. +0.2 means: the line stands 0.2 µm farther out than marked.",
  },
  correction: {
    short: "correction to add to the marked value",
    long: "A correction to add to the marked value. +0.2 means: add 0.2 µm to what is marked.",
  },
  "indication-error": {
    short: "error of indication: marked − true",
    long: "The error of indication, marked minus true value. +0.2 means: the line stands 0.2 µm nearer than marked.",
  },
};
