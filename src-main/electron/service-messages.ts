import type { WorkProgress } from "#core/contract/records/work.ts";
import type { CopyOrder } from "../ports/copy-work.ts";

/**
 * What the window's process and the service process say to each other. Calls and replies are JSON text, as in the
 * loopback host: the window's process passes them on unread.
 */

/** Which bench the service process opens, and what only the window's process knows of the machine. */
export interface BenchToOpen {
  readonly folder: string;
  /** Where exports go when the person has said nothing else. */
  readonly exportFolder: string;
  readonly programVersion: string;
  /** The invented demo bench, which is built first where the folder has none yet. */
  readonly demo: boolean;
}

/** A bench that does not open, with its ways out in words. */
export interface RecoveryQuestion {
  readonly message: string;
  readonly hint: string;
  readonly offers: readonly string[];
}

/** What is asked of the key for heads (`HeadSigner`). */
export type HeadKeyOrder =
  | { readonly kind: "state" | "present" | "make" }
  | { readonly kind: "sign"; readonly publicKey: string; readonly text: string };

/** What the service process cannot do itself and asks of the window's process. */
export interface Questions {
  /** Where a file of this name goes; null when the person cancels. */
  readonly exportPath: { readonly asked: string; readonly answer: string | null };
  /** What was found wrong when an order about copies was carried out beside the service process. */
  readonly copyWork: { readonly asked: CopyOrder; readonly answer: readonly string[] };
  /** The key for heads, which the keychain keeps. */
  readonly headKey: { readonly asked: HeadKeyOrder; readonly answer: string | null };
  /** Opens the demo bench as a program of its own. */
  readonly demo: { readonly asked: null; readonly answer: null };
  /** Opens the folder of a file that an export has written. */
  readonly folder: { readonly asked: string; readonly answer: null };
  /** The page the window shows, as a PDF. */
  readonly pdf: { readonly asked: null; readonly answer: Uint8Array };
  /** The number of the way out taken, from 0; null for none. */
  readonly recovery: { readonly asked: RecoveryQuestion; readonly answer: number | null };
}
export type Question = keyof Questions;

export interface Trouble {
  readonly message: string;
  readonly hint: string;
}

export type ToService =
  | { readonly kind: "open"; readonly bench: BenchToOpen }
  | { readonly kind: "call"; readonly id: number; readonly name: string; readonly input: string }
  | { readonly kind: "answer"; readonly id: number; readonly answer: Questions[Question]["answer"] }
  /** The question could not be answered. */
  | { readonly kind: "failed"; readonly id: number; readonly why: string }
  /** Close the bench and end. */
  | { readonly kind: "close" };

export type FromService =
  | { readonly kind: "opened" }
  /** How far opening is, where it takes long. */
  | { readonly kind: "opening"; readonly progress: WorkProgress }
  | { readonly kind: "unopenable"; readonly trouble: Trouble }
  | { readonly kind: "reply"; readonly id: number; readonly reply: string }
  | {
      readonly kind: "ask";
      readonly id: number;
      readonly question: Question;
      readonly asked: Questions[Question]["asked"];
    }
  /** The answer to that question is no longer wanted. */
  | { readonly kind: "never mind"; readonly id: number };
