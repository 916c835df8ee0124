import type { z } from "zod";
import type { GeneralError } from "./call.ts";
import { benchCalls } from "./calls/bench.ts";
import { benchFileCalls } from "./calls/bench-files.ts";
import { calibrationCalls } from "./calls/calibrations.ts";
import { categoryListCalls } from "./calls/category-lists.ts";
import { correctionCalls } from "./calls/corrections.ts";
import { countCalls } from "./calls/counts.ts";
import { documentCalls } from "./calls/documents.ts";
import { equipmentCalls } from "./calls/equipment.ts";
import { exportCalls, importCalls, uploadCalls } from "./calls/exchange.ts";
import { overdueUseCalls } from "./calls/overdue-uses.ts";
import { ownReadingCalls } from "./calls/own-reading.ts";
import { ownSettingsCalls } from "./calls/own-settings.ts";
import { practiceCalls } from "./calls/practice.ts";
import { recordCalls } from "./calls/records.ts";
import { recountCalls } from "./calls/recounts.ts";
import { registerCalls } from "./calls/registers.ts";
import { rowChangeCalls } from "./calls/row-changes.ts";
import { secondReadingCandidateCalls } from "./calls/second-reading-candidates.ts";
import { secondReadingCalls } from "./calls/second-readings.ts";
import { sheetCalls } from "./calls/sheets.ts";
import { signOffCalls } from "./calls/sign-offs.ts";
import { traceCalls } from "./calls/trace.ts";
import { trendCalls } from "./calls/trends.ts";
import { workCalls } from "./calls/work.ts";
import type { Reply } from "./reply.ts";
import type { Tag } from "./tags.ts";

/** Every call there is. Client, preload bridge, loopback route and dispatcher are derived from this list alone. */
export const calls = Object.freeze({
  ...benchCalls,
  ...registerCalls,
  ...calibrationCalls,
  ...overdueUseCalls,
  ...sheetCalls,
  ...rowChangeCalls,
  ...secondReadingCalls,
  ...secondReadingCandidateCalls,
  ...recordCalls,
  ...correctionCalls,
  ...exportCalls,
  ...uploadCalls,
  ...importCalls,
  ...documentCalls,
  ...countCalls,
  ...categoryListCalls,
  ...recountCalls,
  ...equipmentCalls,
  ...signOffCalls,
  ...traceCalls,
  ...trendCalls,
  ...benchFileCalls,
  ...practiceCalls,
  ...ownSettingsCalls,
  ...ownReadingCalls,
  ...workCalls,
});

export type Calls = typeof calls;
export type CallName = keyof Calls;
/** What a window sends. */
export type CallInput<N extends CallName> = z.input<Calls[N]["input"]>;
/** What a service receives after parsing. */
export type ParsedInput<N extends CallName> = z.output<Calls[N]["input"]>;
export type CallOutput<N extends CallName> = z.output<Calls[N]["output"]>;
/** The named refusals of this call, without the general ones. */
export type CallRefusal<N extends CallName> = Calls[N]["errors"][number];
export type CallReply<N extends CallName> = Reply<CallOutput<N>, CallRefusal<N> | GeneralError>;

/** A read whose answer a window may keep: what it rests on is declared. */
export type KeptRead = {
  [N in CallName]: Calls[N] extends { readonly reads: readonly [Tag, ...Tag[]] } ? N : never;
}[CallName];

/** What a call has changed once it is done: nothing after most reads. */
export function changedBy(name: CallName): readonly Tag[] {
  return calls[name].changes ?? [];
}

/** What the answer of a call rests on. */
export function restsOn(name: CallName): readonly Tag[] {
  return calls[name].reads ?? [];
}

export function isCallName(name: string): name is CallName {
  return Object.hasOwn(calls, name);
}

/** The typed client that every screen uses; the transport behind it is the host's. */
export type Client = <N extends CallName>(name: N, input: CallInput<N>) => Promise<CallReply<N>>;
