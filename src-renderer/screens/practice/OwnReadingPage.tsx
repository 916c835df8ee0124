import type { OwnAgreement, OwnReading } from "#core/contract/records/own-reading.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { trueMinus } from "#core/quantity/printed-number.ts";
import { equalsProbability, probabilityWords } from "#core/quantity/probability-words.ts";
import { formatToPlaces } from "#core/quantity/rounding.ts";
import type { ReadingSource } from "#core/vocabulary/reading-source.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { DigitPlot } from "./DigitPlot.tsx";
import styles from "./Practice.module.css";

/** How the person at the bench reads: for that person's eyes, so there is no button to print or save it. */
export function OwnReadingPage() {
  const own = useCall("ownReading.read", {});
  const status = useCall("bench.status", {});
  if (own.data === undefined || !status.data) {
    return <CallNotice calls={[own, status]} waiting="Looking through your readings …" />;
  }
  if (own.data === null) return <p>Choose who is at the bench (Registers, People) to see how you read.</p>;
  const name = status.data.personInUse?.name ?? "the person at the bench";
  return (
    <>
      <Notice kind="care">
        Only {name}, now at the bench, is shown here. Nothing of it is stored or exported, and no result
        depends on it.
      </Notice>
      <DigitsPanel own={own.data} />
      <AgreementPanel agreements={own.data.agreements} />
    </>
  );
}

const SOURCE_WORDS: Readonly<Record<ReadingSource, string>> = {
  sheets: "Sheets",
  "second readings": "Second readings",
  calibrations: "Calibrations",
  checks: "Quick checks",
  "class material": "Real slides of classes",
};

type SourceLine = OwnReading["digits"][number];

const sumOf = (counts: readonly number[]): number => counts.reduce((sum, count) => sum + count, 0);

const DIGITS: readonly Column<SourceLine>[] = [
  { key: "source", title: "Read in", names: true, cell: ({ source }) => SOURCE_WORDS[source] },
  ...Array.from(
    { length: 10 },
    (_, digit): Column<SourceLine> => ({
      key: String(digit),
      title: `.${digit}`,
      number: true,
      cell: ({ counts }) => counts[digit],
    }),
  ),
  { key: "sum", title: "Sum", number: true, cell: ({ counts }) => sumOf(counts) },
  {
    key: "tested",
    title: "Tested",
    cell: ({ leftOut }) => (leftOut ? "yes" : "no: the same distance again and again"),
  },
];

/** What was found, in a sentence. */
function verdictWords({ verdict, digits }: OwnReading): string {
  if (!verdict) {
    const n = digits.reduce((sum, { counts, leftOut }) => sum + (leftOut ? sumOf(counts) : 0), 0);
    return `${countedNoun(n, "reading")} can be tested so far; 20 are the least.`;
  }
  const { n, p, uneven, preferred } = verdict;
  if (!uneven) return `Your ${n} readings show no preference for a final digit (p ${equalsProbability(p)}).`;
  const which =
    preferred.length > 0
      ? `you read ${preferred.map((digit) => `.${digit}`).join(", ")} more often than the other tenths`
      : "you read some tenths less often than the others";
  return `Of ${n} readings, ${which} (p ${equalsProbability(p)}). The exercise “Read tenths” trains it.`;
}

function leftOutWords({ digits }: OwnReading): string | null {
  const total = { alike: 0, whole: 0, finer: 0 };
  for (const { leftOut } of digits) {
    if (!leftOut) continue;
    total.alike += leftOut.alike;
    total.whole += leftOut.whole;
    total.finer += leftOut.finer;
  }
  const parts = [
    total.alike > 0 ? `${total.alike} of objects that are alike or few` : "",
    total.whole > 0 ? `${total.whole} to whole divisions` : "",
    total.finer > 0 ? `${total.finer} finer than tenths` : "",
  ].filter((part) => part !== "");
  return parts.length === 0 ? null : `Not counted: ${parts.join(", ")}.`;
}

function DigitsPanel({ own }: { own: OwnReading }) {
  const tested = own.digits.filter(({ leftOut }) => leftOut !== null);
  const together = Array.from({ length: 10 }, (_, digit) =>
    tested.reduce((sum, { counts }) => sum + (counts[digit] ?? 0), 0),
  );
  const leftOut = leftOutWords(own);
  return (
    <Panel
      title="Final digits"
      lead="The tenth of a division of the right edge, or of divisions read directly"
    >
      <div className={styles.stack}>
        <p>{verdictWords(own)}</p>
        <p>
          A tenth is as likely as any other where objects of one name differ by a division or more; only such
          readings are tested (χ² against equal counts). Of readers without any preference 1 in 100 is told of
          one at each look. Pasted rows count for whoever pasted them. {leftOut}
        </p>
        {sumOf(together) > 0 ? (
          <div className={styles.plots}>
            <DigitPlot digits={together} />
          </div>
        ) : null}
        <DataTable
          caption="Final digits by kind of work, newest work"
          columns={DIGITS}
          rows={own.digits}
          rowKey={({ source }) => source}
          empty="Nothing was read yet."
        />
      </div>
    </Panel>
  );
}

const micrometres = (text: string): string => formatToPlaces(decimal(text), 2);

function AgreementPanel({ agreements }: { agreements: readonly OwnAgreement[] }) {
  const navigation = useNavigation();
  const columns: readonly Column<OwnAgreement>[] = [
    {
      key: "sample",
      title: "Sheet",
      names: true,
      words: true,
      cell: ({ sample, number }) => `${sample}, second reading ${number}`,
    },
    { key: "other", title: "Other reader", cell: ({ other }) => other },
    { key: "dimension", title: "Dimension", cell: ({ dimension }) => dimension },
    { key: "n", title: "Pairs", number: true, cell: ({ n }) => n },
    {
      key: "bias",
      title: "You less other (95 %), µm",
      unbroken: true,
      cell: ({ bias, biasInterval: { lower, upper } }) =>
        trueMinus(`${micrometres(bias)} (${micrometres(lower)} to ${micrometres(upper)})`),
    },
    {
      key: "percent",
      title: "%",
      number: true,
      cell: ({ biasPercent }) => (biasPercent === null ? "–" : formatToPlaces(decimal(biasPercent), 2)),
    },
    {
      key: "error",
      title: "TEM, µm",
      number: true,
      cell: ({ technicalError }) => micrometres(technicalError),
    },
    { key: "p", title: "p", number: true, cell: ({ p }) => probabilityWords(p) },
    {
      key: "open",
      title: "",
      cell: ({ sheetId, secondReadingId, sample, number }) => (
        <Button
          look="quiet"
          aria-label={`Open second reading ${number} of ${sample}`}
          onClick={() => navigation.go({ screen: "measure", sheetId, second: secondReadingId })}
        >
          Open
        </Button>
      ),
    },
  ];
  return (
    <Panel
      title="Agreement with other readers"
      lead="Closed second readings in which you were the only first reader, or the second"
    >
      <div className={styles.stack}>
        <p>
          TEM is the technical error of measurement, √(Σd²/2n). Of readers who do not differ, 1 in 20 lines
          shows p below 0.05. How far calibrations of several people lie apart is told on Trends, People.
        </p>
        <DataTable
          caption="You and the other reader"
          columns={columns}
          rows={agreements}
          rowKey={({ secondReadingId, dimension }) => `${secondReadingId} ${dimension}`}
          empty="No second reading with you is closed yet."
        />
      </div>
    </Panel>
  );
}
