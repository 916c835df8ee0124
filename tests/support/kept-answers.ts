import { type CallInput, calls, isCallName, type KeptRead, restsOn } from "#core/contract/calls.ts";
import { CONTROL_KINDS } from "#core/contract/records/control-sample.ts";
import type { TempBench } from "./temp-bench.ts";

/** A search that narrows nothing. */
export const EVERYTHING = {
  words: "",
  personId: null,
  familyId: null,
  objectiveId: null,
  since: null,
  until: null,
  sort: "number",
  descending: true,
  skip: 0,
  count: 200,
} as const;

type Inputs = { readonly [N in KeptRead]: readonly CallInput<N>[] };

/** Every read that a window may keep. */
export const KEPT_READS: readonly KeptRead[] = Object.keys(calls)
  .filter(isCallName)
  .filter((name): name is KeptRead => restsOn(name).length > 0);

const listed = (name: KeptRead): boolean => KEPT_READS.includes(name);

async function recordsOf({ call }: TempBench) {
  const sheets = await call("sheets.list", {});
  const pages = await Promise.all(
    sheets.map(({ id }) => call("rows.page", { sheetId: id, from: 1, count: 50 })),
  );
  const readings = await Promise.all(sheets.map(({ id }) => call("secondReadings.list", { sheetId: id })));
  return {
    sheets,
    rows: pages.flatMap(({ rows }) => rows),
    readings: readings.flat(),
    people: await call("people.list", {}),
    microscopes: await call("microscopes.list", {}),
    micrometers: await call("micrometers.list", {}),
    trains: (await call("bench.overview", {})).microscopes.flatMap((one) =>
      one.trains.map(({ train }) => train.id),
    ),
    calibrations: await call("calibrations.list", { trainId: null }),
    methods: await call("methods.list", {}),
    countMethods: await call("countMethods.list", {}),
    counts: await call("counts.list", {}),
    recounts: await call("recounts.list", { countId: null }),
    attempts: await call("practice.list", { personId: null }),
    classes: await call("practice.classes", {}),
    reevaluations: await call("reevaluations.list", {}),
    attachments: await call("attachments.list", { subject: null }),
  };
}

type Records = Awaited<ReturnType<typeof recordsOf>>;

function equipmentInputs({ people, microscopes, micrometers, trains, calibrations }: Records) {
  const byTrain = [{ trainId: null }, ...trains.map((trainId) => ({ trainId }))];
  const certificates = micrometers.flatMap((one) => one.certificates);
  return {
    "registers.serviceStates": [{}],
    "registers.history": [
      ...microscopes.map(({ id }) => ({ kind: "microscope" as const, id })),
      ...micrometers.map(({ id }) => ({ kind: "stage micrometer" as const, id })),
      ...certificates.map(({ id }) => ({ kind: "certificate" as const, id })),
      ...people.map(({ id }) => ({ kind: "person" as const, id })),
    ],
    "certificates.replacements": [{}],
    "attachments.list": [{ subject: null }],
    "events.list": [{ microscopeId: null }, ...microscopes.map(({ id }) => ({ microscopeId: id }))],
    "checks.list": byTrain,
    "due.list": [{ withinDays: 3650 }],
    "microscopes.list": [{}],
    "micrometers.list": [{}],
    "calibrations.list": byTrain,
    "calibrations.summaries": [{ state: null, from: 0, count: 50 }],
    "calibrations.get": calibrations.map(({ id }) => ({ calibrationId: id })),
    "calibrations.approvals": byTrain,
    "calibrations.repeatability": people.map(({ id }) => ({ personId: id })),
    "calibrations.scatters": people.map(({ id }) => ({ personId: id })),
    "trends.train": trains.map((trainId) => ({ trainId })),
    "trends.verdicts": [{}],
    "trends.sideBySide": [
      ...microscopes.map(({ id }) => ({ view: "microscope" as const, id })),
      ...trains.map((id) => ({ view: "people" as const, id })),
      ...micrometers.map(({ id }) => ({ view: "micrometer" as const, id })),
    ],
    "trends.onDay": [{ day: "2026-03-02", trainId: null }],
    "trends.drawing": trains.map((trainId) => ({
      trainId,
      view: { unit: "factor" as const, withTolerance: true, days: null },
    })),
  } satisfies Partial<Inputs>;
}

function sheetInputs({ sheets, rows, readings, methods, people }: Records) {
  const bySheet = sheets.map(({ id }) => ({ sheetId: id }));
  const byRow = rows.map(({ id }) => ({ rowId: id }));
  return {
    "methods.list": [{}],
    "methods.get": methods.map(({ id }) => ({ methodId: id })),
    "sheets.list": [{}],
    "rows.byLabel": [{ words: "", count: 200 }],
    "sheets.search": [
      { ...EVERYTHING, state: null },
      { ...EVERYTHING, state: "open" as const },
    ],
    "sheets.get": bySheet,
    "sheets.columns": bySheet.map((sheet) => ({ ...sheet, from: 1, count: 100 })),
    "sheets.history": bySheet,
    "sheets.eyesAtTrains": [{ personId: null }, ...people.map(({ id }) => ({ personId: id }))],
    "sheets.signOffs": bySheet,
    "sheets.states": [{}],
    "rows.page": bySheet.map((sheet) => ({ ...sheet, from: 1, count: 100 })),
    "rows.placed": bySheet.map((sheet) => ({ ...sheet, words: "", count: 100 })),
    "attachments.ofSheet": bySheet,
    "rows.superseded": byRow,
    "rows.journal": bySheet,
    "rows.previewBlock": bySheet.map((sheet) => ({
      ...sheet,
      blockId: "block-2",
      columns: [
        { kind: "label" as const },
        { kind: "reading" as const, cell: { dimension: "length", edge: "left" as const } },
        { kind: "reading" as const, cell: { dimension: "length", edge: "right" as const } },
      ],
      skipFirstLine: false,
      startAt: null,
      excluded: [],
      corrections: [],
    })),
    "secondReadings.candidates": bySheet.map((sheet) => ({ ...sheet, ordinals: [1, 2, 3] })),
    "secondReadings.list": bySheet,
    "secondReadings.get": readings.map(({ id }) => ({ secondReadingId: id })),
    "reports.sheet": bySheet,
  } satisfies Partial<Inputs>;
}

function traceInputs({ sheets, rows, micrometers, microscopes, calibrations, reevaluations }: Records) {
  const subjects = [
    ...micrometers.flatMap((one) => one.certificates.map(({ id }) => ({ kind: "certificate" as const, id }))),
    ...microscopes.map(({ id }) => ({ kind: "microscope" as const, id })),
    ...calibrations.map(({ id }) => ({ kind: "calibration" as const, id })),
  ];
  const scopes = subjects.map((subject) => ({ subject, from: null, to: null, replacement: null }));
  return {
    "trace.backward": rows.flatMap((row) =>
      row.measurements.map(({ dimension }) => ({ rowId: row.id, dimension })),
    ),
    "trace.elsewhere": rows.flatMap((row) =>
      (row.elsewhere?.sizes ?? []).map(({ dimension }) => ({ rowId: row.id, dimension })),
    ),
    "trace.forward": scopes,
    "trace.forwardRows": scopes.flatMap((scope) =>
      sheets.map(({ id }) => ({ ...scope, sheetId: id, after: 0, count: 100 })),
    ),
    "trace.letter": scopes,
    "counts.touchedBy": scopes,
    "reevaluations.list": [{}],
    "reevaluations.status": reevaluations.map(({ id }) => ({ reevaluationId: id })),
  } satisfies Partial<Inputs>;
}

function countInputs({ counts, recounts, countMethods }: Records) {
  const byCount = counts.map(({ id }) => ({ countId: id }));
  return {
    "countMethods.list": [{}],
    "categoryLists.list": [{}],
    "countMethods.get": countMethods.map(({ id }) => ({ countMethodId: id })),
    "counts.list": [{}],
    "counts.search": [{ ...EVERYTHING, state: null }],
    "counts.get": byCount,
    "attachments.ofCount": byCount,
    "counts.movedCellVolumes": byCount,
    "counts.sameSample": byCount,
    "counts.controls": countMethods.flatMap(({ familyId }) =>
      CONTROL_KINDS.map((kind) => ({ familyId, kind })),
    ),
    "counts.state": byCount,
    "counts.events": byCount.map((count) => ({ ...count, from: 1, count: 500 })),
    "counts.results": byCount,
    "recounts.list": [{ countId: null }, ...byCount],
    "recounts.get": recounts.map(({ id }) => ({ recountId: id })),
  } satisfies Partial<Inputs>;
}

const workOf = ({ sheets, counts }: Records) => [
  ...sheets.map(({ id }) => ({ work: "sheet" as const, id })),
  ...counts.map(({ id }) => ({ work: "count" as const, id })),
];

/** What a window could have asked of this bench: every read it may keep, about every record there is. */
async function everyInput(bench: TempBench): Promise<Inputs> {
  const records = await recordsOf(bench);
  return {
    "bench.status": [{}],
    "bench.overview": [{}],
    "people.list": [{}],
    "people.pins": [{}],
    "people.standings": [{}],
    "ownReading.read": [{}],
    "ownSettings.read": [{}],
    "laboratory.settings": [{}],
    "trail.page": [{ before: null, count: 500 }],
    "trail.head": [{}],
    "trail.signing": [{}],
    "trail.compareHeads": [{ noted: `1:${"0".repeat(64)}` }],
    "trail.verify": [{}],
    "trail.followedTo": [{}],
    "backups.list": [{}],
    "attachments.read": records.attachments.map(({ id }) => ({ attachmentId: id, from: 0 })),
    ...equipmentInputs(records),
    ...sheetInputs(records),
    ...traceInputs(records),
    ...countInputs(records),
    "practice.list": [{ personId: null }],
    "practice.get": records.attempts.map(({ id }) => ({ attemptId: id })),
    "practice.criteria": [{}],
    "practice.competence": [{}],
    "practice.classes": [{}],
    "practice.slideReadings": records.classes.map(({ id }) => ({ classId: id })),
    "overdueUses.of": [
      ...workOf(records).map(({ work, id }) => ({ work, workId: id })),
      ...records.calibrations.map(({ id }) => ({ work: "calibration" as const, workId: id })),
    ],
    "practice.missing": workOf(records),
    "practice.unproven": workOf(records),
    "practice.certificates": [{}],
  };
}

/** Answers by read and input, as text. */
export type Answers = ReadonlyMap<string, { readonly name: KeptRead; readonly answer: string }>;

/** Left out: the instant of the answer itself. */
const OF_THE_MOMENT: ReadonlySet<string> = new Set(["asOf"]);

/** Every answer of the bench as it is, all at one instant, so that two of them differ by what was done alone. */
export async function everyAnswer(bench: TempBench, instant: string): Promise<Answers> {
  const now = bench.clock.now();
  const answers = new Map<string, { name: KeptRead; answer: string }>();
  for (const [name, inputs] of Object.entries(await everyInput(bench))) {
    if (!isCallName(name) || !listed(name as KeptRead)) throw new Error(`${name} is kept by no window`);
    for (const input of inputs) {
      bench.clock.set(instant);
      const reply = await bench.program.dispatch(name, input);
      answers.set(`${name} ${JSON.stringify(input)}`, {
        name: name as KeptRead,
        answer: JSON.stringify(reply, (key, value: unknown) => (OF_THE_MOMENT.has(key) ? undefined : value)),
      });
    }
  }
  bench.clock.set(now);
  return answers;
}

/** The reads whose answer to the same question is another one. */
export function changedReads(before: Answers, after: Answers): KeptRead[] {
  const changed = [...before].filter(
    ([key, { answer }]) => after.has(key) && after.get(key)?.answer !== answer,
  );
  return [...new Set(changed.map(([, { name }]) => name))];
}
