import type { Client } from "#core/contract/calls.ts";
import type { CountHead } from "#core/contract/records/count.ts";
import type { Sheet } from "#core/contract/records/sheet.ts";
import type { Reply } from "#core/contract/reply.ts";

/** One result of a job: a dimension of a sheet, or a density of a count. */
export interface SummaryLine {
  readonly key: string;
  readonly of: "sheet" | "count";
  readonly id: string;
  readonly number: string;
  readonly sample: string;
  readonly state: string;
  /** What was measured, or what was counted. */
  readonly what: string;
  /** Specimens or objects. */
  readonly n: string;
  /** As report and workbook print it, with its U. */
  readonly result: string;
  readonly unit: string;
}

/** As many sheets and as many counts are summed up at once. */
export const MOST_OF_A_JOB = 100;

const searchFor = (words: string) =>
  ({
    words,
    personId: null,
    familyId: null,
    objectiveId: null,
    since: null,
    until: null,
    state: null,
    sort: "number",
    descending: false,
    skip: 0,
    count: MOST_OF_A_JOB,
  }) as const;

async function linesOfSheet(client: Client, { id, number, sample }: Sheet): Promise<Reply<SummaryLine[]>> {
  const report = await client("reports.sheet", { sheetId: id });
  if (!report.ok) return report;
  const { tables, state } = report.value;
  const of = { of: "sheet", id, number, sample, state } as const;
  const lines = tables.flatMap(({ name, unit, lines: [all] }): SummaryLine[] =>
    all
      ? [
          {
            key: `${id} ${name}`,
            ...of,
            what: name,
            n: String(all.n),
            result: all.mean,
            // “no size” and the like have none.
            unit: /\d/.test(all.mean) ? unit : "",
          },
        ]
      : [],
  );
  const none = { key: id, ...of, what: "nothing measured yet", n: "0", result: "", unit: "" };
  return { ok: true, value: lines.length > 0 ? lines : [none] };
}

async function linesOfCount(client: Client, head: CountHead): Promise<Reply<SummaryLine[]>> {
  const { id, number, sample, state } = head;
  const found = await client("counts.results", { countId: id });
  if (!found.ok) return found;
  const { results } = found.value;
  const of = { of: "count", id, number, sample, state } as const;
  const total = {
    key: `${id} total`,
    ...of,
    what: head.lastSequence === 0 ? "nothing counted yet" : "objects counted",
    n: results.total,
    result: "",
    unit: "",
  };
  const density = results.densities.find((one) => one.of === "total");
  const figure = density && { ...total, key: `${id} density`, what: "density", result: density.shown };
  return { ok: true, value: [figure ?? total] };
}

export interface JobSummary {
  readonly lines: readonly SummaryLine[];
  /** Sheets and counts found beyond those summed up. */
  readonly more: number;
}

/**
 * What every sheet and count whose number, sample or customer holds these words came to, in the order of their numbers.
 * @param tell how many of them are done
 * @param isWanted false ends the work: its answer is looked at by nobody
 */
export async function summaryOfJob(
  client: Client,
  words: string,
  tell: (done: number, of: number) => void,
  isWanted: () => boolean,
): Promise<Reply<JobSummary>> {
  const sheets = await client("sheets.search", searchFor(words));
  if (!sheets.ok) return sheets;
  const counts = await client("counts.search", searchFor(words));
  if (!counts.ok) return counts;
  const work = [
    ...sheets.value.sheets.map((one) => () => linesOfSheet(client, one)),
    ...counts.value.counts.map((one) => () => linesOfCount(client, one)),
  ];
  const lines: SummaryLine[] = [];
  for (const [at, read] of work.entries()) {
    tell(at, work.length);
    if (!isWanted()) break;
    const found = await read();
    if (!found.ok) return found;
    lines.push(...found.value);
  }
  const total = sheets.value.total + counts.value.total;
  return { ok: true, value: { lines, more: total - work.length } };
}

/** Tab-separated, with a line of headings, as spreadsheets take it. */
export function textOfSummary(lines: readonly SummaryLine[]): string {
  const cell = (text: string): string => text.replaceAll(/[\t\r\n]+/g, " ");
  const rows = lines.map(({ number, sample, state, what, n, result, unit }) =>
    [number, sample, state, what, n, result, unit].map(cell).join("\t"),
  );
  return ["Number\tSample\tState\tWhat\tn\tResult with U\tUnit", ...rows].join("\n");
}
