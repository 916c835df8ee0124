export const DECIMAL_SIGNS = ["point", "comma"] as const;
export type DecimalSign = (typeof DECIMAL_SIGNS)[number];

/** Forms of a date, each by the last day of January 2026. The order month, day is offered with the month's name alone. */
export const DATE_FORMS = ["2026-01-31", "31.01.2026", "31/01/2026", "31 Jan 2026", "Jan 31, 2026"] as const;
export type DateForm = (typeof DATE_FORMS)[number];

/** How a person reads numbers and dates. Stored and exported records know none of it. */
export interface Notation {
  readonly decimalSign: DecimalSign;
  readonly dateForm: DateForm;
}

export const USUAL_NOTATION: Notation = { decimalSign: "point", dateForm: "2026-01-31" };

const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/** A decimal of a text: digits, point, digits, with no further point, letter or sign that makes it a name or a version. */
const DECIMAL =
  /(?<![\p{L}\d.,_-]|(?<!×)\/)(?<!(?:VIM|GUM|clause|[Vv]ersion|v\.|[Ll]icen[cs]e|[Ss]ection|Table|§|no\.|[Ss]erial|[Cc]ertificate|[Ss]ample) ?)(\d+)\.(\d+)(?![\d_]|[.,]\d|\.\p{L})/gu;
/** A standard with its year and what follows: clauses look like decimals. */
const CITED = /(:\d{4},?(?: (?:clauses? )?[A-Z]?[.\d]*\d(?:,| and| to)?)+)/;
const DATE = /(?<![\d.-])(\d{4})-(\d\d)-(\d\d)(?![\d-]|\.\p{L})/gu;

/** Dates of a text as this person reads them; other text stays. */
export function shownDate(date: string, { dateForm }: Notation): string {
  if (dateForm === "2026-01-31") return date;
  return date.replace(DATE, (_, year: string, month: string, day: string) => {
    const name = MONTHS[Number(month) - 1] ?? month;
    if (dateForm === "31.01.2026") return `${day}.${month}.${year}`;
    if (dateForm === "31/01/2026") return `${day}/${month}/${year}`;
    return dateForm === "31 Jan 2026" ? `${Number(day)} ${name} ${year}` : `${name} ${Number(day)}, ${year}`;
  });
}

/** Decimals of a text, which the program wrote with a point, with this person's sign; clauses of standards stay. */
export function withDecimalSign(text: string, { decimalSign }: Pick<Notation, "decimalSign">): string {
  if (decimalSign === "point") return text;
  // What is cited stands at the odd places.
  return text
    .split(CITED)
    .map((part, at) => (at % 2 === 1 ? part : part.replace(DECIMAL, "$1,$2")))
    .join("");
}

/** Numbers and dates of a text of the program as this person reads them. */
export function withOwnNotation(text: string, notation: Notation): string {
  return shownDate(withDecimalSign(text, notation), notation);
}

export function isUsualNotation({ decimalSign, dateForm }: Notation): boolean {
  return decimalSign === USUAL_NOTATION.decimalSign && dateForm === USUAL_NOTATION.dateForm;
}

/**
 * A date as typed in this person's form, as the record keeps it: `31.1.2026` → `2026-01-31`. Text that is no such date
 * stays as it is. Which number is the day is known from the form alone, so no other order is read.
 */
export function typedDate(typed: string, { dateForm }: Notation): string {
  const compact = /^(\d{4})(\d{2})(\d{2})$/.exec(typed);
  if (compact) return `${compact[1]}-${compact[2]}-${compact[3]}`;
  const two = (part: string | undefined): string => (part ?? "").padStart(2, "0");
  const sign = dateForm === "31.01.2026" ? "\\." : dateForm === "31/01/2026" ? "/" : null;
  if (sign) {
    const match = new RegExp(`^(\\d{1,2})${sign}(\\d{1,2})${sign}(\\d{4})$`).exec(typed);
    return match ? `${match[3]}-${two(match[2])}-${two(match[1])}` : typed;
  }
  const named =
    dateForm === "31 Jan 2026"
      ? /^(?<day>\d{1,2}) (?<month>[a-z]{3}) (?<year>\d{4})$/i.exec(typed)
      : /^(?<month>[a-z]{3}) (?<day>\d{1,2}),? (?<year>\d{4})$/i.exec(typed);
  const { day, month, year } = named?.groups ?? {};
  const at = MONTHS.findIndex((one) => one.toLowerCase() === month?.toLowerCase());
  return at < 0 ? typed : `${year}-${two(String(at + 1))}-${two(day)}`;
}
