import {
  isUsualNotation,
  type Notation,
  typedDate,
  USUAL_NOTATION,
  withDecimalSign,
  withOwnNotation,
} from "#core/quantity/shown-text.ts";
import { exceptTypedTexts } from "./typed-texts.ts";

let notation: Notation = USUAL_NOTATION;

/** From now on the window shows numbers and dates so; what is drawn already is drawn again by whoever calls this. */
export function goByNotation({ decimalSign, dateForm }: Notation): void {
  notation = { decimalSign, dateForm };
}

/** Whether numbers or dates are shown otherwise than the program writes them. */
export const inOwnNotation = (): boolean => !isUsualNotation(notation);

/** Words of the program with their numbers and dates as the person reads them; words of people in it as typed. */
export const shown = (text: string): string =>
  inOwnNotation() ? exceptTypedTexts(text, (part) => withOwnNotation(part, notation)) : text;

/** A date as typed in the person's form, as the record keeps it. */
export const dateTyped = (typed: string): string => typedDate(typed, notation);

/** A number for a field or the clipboard: the person's decimal sign, no other change. */
export const numberShown = (text: string): string => withDecimalSign(text, notation);
