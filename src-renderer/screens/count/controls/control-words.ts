import type { ControlKind, ControlPoint, ControlSample } from "#core/contract/records/control-sample.ts";
import { CONTROL_KINDS } from "#core/contract/records/control-sample.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { equalsProbability } from "#core/quantity/probability-words.ts";

export const KIND_WORDS: Readonly<Record<ControlKind, string>> = {
  blank: "blanks",
  recovery: "recoveries",
  duplicate: "duplicates",
};

export const KIND_CHOICES = CONTROL_KINDS.map((value) => ({ value, words: KIND_WORDS[value] }));

/** Three digits of a number of a series, without an exponent. */
export function three(text: string): string {
  return decimal(text).toSignificantDigits(3).toFixed();
}

/** What a count is said to be, in one sentence. */
export function controlWords(
  control: ControlSample,
  nameOf: (category: string) => string,
  numberOf: (countId: string) => string,
): string {
  if (control.kind === "blank") return "A blank: it ought to hold nothing.";
  if (control.kind === "duplicate") return `A duplicate of ${numberOf(control.ofCountId)}.`;
  const { of, against, stated, expanded, portion, background, source } = control;
  const what = against === "objects" ? "objects in the sample" : "as its density";
  const doubt = expanded === "" ? "" : ` ± ${expanded}`;
  const part = portion === "" ? "" : `, ${portion} % of it looked at`;
  const before = background === "" ? "" : `, ${background} found without the addition`;
  return `A sample of known content: ${nameOf(of)}, ${stated}${doubt} ${what}${part}${before} (${source}).`;
}

/** What a value is made of, for its line of the table. */
export function fromWords({ from }: ControlPoint): string {
  if (from.kind === "blank") {
    const chance = from.p === null ? "" : `, p ${equalsProbability(from.p)}`;
    return `${from.objects} objects in ${from.fields} fields${chance}`;
  }
  if (from.kind === "duplicate") {
    const chance = from.p === null ? "" : `, p by chance alone ${equalsProbability(from.p)}`;
    return `${three(from.second)} after ${three(from.first)} ${from.unit} of ${from.other}${chance}`;
  }
  const part = from.portion === "100" ? "" : ` in ${from.portion} %`;
  const less = from.background === "0" ? "" : ` less ${from.background}`;
  return `${from.name}: ${three(from.found)}${less} of ${three(from.stated)} ${from.unit}${part}`;
}

/** Limits in words: `82 to 118`, `at most 3`. */
export function endsWords(ends: ControlPoint["limits"]): string {
  if (ends === null) return "–";
  if (ends.lower === null) return ends.upper === null ? "–" : `at most ${three(ends.upper)}`;
  return ends.upper === null
    ? `at least ${three(ends.lower)}`
    : `${three(ends.lower)} to ${three(ends.upper)}`;
}
