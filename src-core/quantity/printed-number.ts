const THIN_SPACE = "\u2009";
/** Groups of three with a thin space, from five digits on (BIPM, SI Brochure, 9th edition, 2019, 5.4.4). */
const LEAST_GROUPED = 5;

/** Signs of negative numbers of a text as a true minus, for people; stored text keeps its hyphen. */
export function trueMinus(text: string): string {
  return text.replace(/(?<![\w.\d-])-(?=\d)/g, "−");
}

/** Numbers of a text as they are printed: a true minus sign, and thin spaces between groups of three digits. */
export function printedNumber(text: string): string {
  return trueMinus(text).replace(/(?<![\w.,])\d+(?![\w])/g, (digits) =>
    digits.length < LEAST_GROUPED ? digits : digits.replace(/\B(?=(\d{3})+$)/g, THIN_SPACE),
  );
}
