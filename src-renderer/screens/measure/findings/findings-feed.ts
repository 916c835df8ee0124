import { neighbouringTrains } from "#core/measurement/measurement-flags.ts";
import { apartSizes, handfulFinding, readingFloor, sharedFlags } from "#core/measurement/sheet-findings.ts";
import { sizeHistoryOf } from "#core/measurement/size-history.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { type ApartValues, isApart } from "#core/statistics/apart-values.ts";
import { byWeight, FLAG_TITLES, type FlagKey } from "#core/vocabulary/flag.ts";
import { objectiveInUse } from "../../../grid/grid-state.ts";
import type { GridStore } from "../../../grid/grid-store.ts";
import { Listeners } from "../../../live/listeners.ts";
import type { LabelHistories } from "../explain/label-histories.ts";
import { type SheetContext, trainOfObjective } from "../sheet-context.ts";
import { groupTitle, type LabelSample } from "../sheet-summary.ts";
import type { SummaryFeed } from "../summary-feed.ts";
import { type FindingLine, SheetFindings, sampleKey } from "./sheet-findings.ts";

/** Most rows named in one line. */
const MOST_NAMED = 8;
const HALF = decimal("0.5");

/**
 * Keeps the findings of a sheet up to date: after each change only the samples that changed are tested again, so that a
 * key costs the same on a sheet of a hundred and of a hundred thousand rows.
 */
export class FindingsFeed {
  readonly #feed: SummaryFeed;
  readonly #store: GridStore;
  readonly #context: SheetContext;
  readonly #apart = new Map<string, ApartValues>();
  readonly #apartLines = new Map<string, string>();
  readonly #apartRows = new Map<string, string>();
  readonly #handfuls = new Map<string, string>();
  readonly #histories: LabelHistories;
  #current: SheetFindings;
  #reported = "";
  #lines: readonly FindingLine[] = [];
  readonly #listeners = new Listeners();

  constructor(feed: SummaryFeed, store: GridStore, context: SheetContext, histories: LabelHistories) {
    this.#feed = feed;
    this.#store = store;
    this.#context = context;
    this.#histories = histories;
    this.#current = new SheetFindings(feed.summary, { apart: this.#apart, shared: new Map() });
  }

  /** For single rows; the same object while nothing else is found. */
  readonly current = (): SheetFindings => this.#current;

  /** About the sheet as a whole, heaviest first; the same list while nothing else is said. */
  readonly lines = (): readonly FindingLine[] => this.#lines;

  readonly subscribe = this.#listeners.add;

  /** Follows the summary; returns the end of it. */
  follow(): () => void {
    this.#look(this.#feed.summary.samples());
    return this.#feed.subscribe(() => this.#look(this.#feed.summary.takeChanged()));
  }

  #factor(): string | null {
    const train = trainOfObjective(this.#context, objectiveInUse(this.#store.state()));
    return train?.inForce?.result?.factor ?? null;
  }

  #look(changed: readonly LabelSample[]): void {
    const before = [this.#current, this.#lines];
    this.#test(changed);
    if (this.#current === before[0] && this.#lines === before[1]) return;
    this.#listeners.tell();
  }

  #test(changed: readonly LabelSample[]): void {
    for (const sample of changed) {
      this.#testApart(sample);
      this.#testHandful(sample);
    }
    const shared = this.#shared();
    const lines = [...this.#wrongLines(), ...this.#sharedLines(shared)];
    if (JSON.stringify(lines) !== JSON.stringify(this.#lines)) this.#lines = lines;
    const reported = JSON.stringify([
      [...shared].map(([dimension, flags]) => [dimension, ...flags]),
      [...this.#apart].map(([key, { low, high }]) => [key, low, high]),
    ]);
    if (reported === this.#reported) return;
    this.#reported = reported;
    this.#current = new SheetFindings(this.#feed.summary, { apart: new Map(this.#apart), shared });
  }

  #testApart(sample: LabelSample): void {
    const { dimension, group } = sample;
    const key = sampleKey(dimension, group);
    const values = this.#feed.summary.sample(dimension, group);
    const floor = readingFloor(this.#context.method.definition.reading, this.#factor());
    const apart = values && apartSizes(values.moments(), floor);
    if (!apart || apart.count === 0) {
      this.#apart.delete(key);
      this.#apartLines.delete(key);
      return;
    }
    const before = this.#apart.get(key);
    const isNew = before?.low !== apart.low || before.high !== apart.high || before.count !== apart.count;
    this.#apart.set(key, apart);
    // The rows are looked for only when they can be others: that goes through the whole sample.
    if (isNew) this.#apartRows.set(key, this.#rowsOf(sample, apart));
    const words = `${countedNoun(apart.count, "value")} apart from the other ${apart.n - apart.count}`;
    this.#apartLines.set(key, `${this.#nameOf(sample)}: ${words}${this.#apartRows.get(key) ?? ""}.`);
  }

  #rowsOf(sample: LabelSample, apart: ApartValues): string {
    const test = (size: Decimal): boolean => isApart(size.toNumber(), apart);
    const rows = this.#feed.summary.ordinalsWith(sample, test, MOST_NAMED);
    const more = apart.count > rows.length ? " and more" : "";
    return rows.length === 0 ? "" : `: ${rows.length === 1 ? "row" : "rows"} ${rows.join(", ")}${more}`;
  }

  #nameOf({ dimension, group }: LabelSample): string {
    const name = this.#context.method.definition.dimensions.find(({ key }) => key === dimension)?.name;
    return [groupTitle(group), name ?? dimension].filter((part) => part !== "").join(", ");
  }

  #testHandful(sample: LabelSample): void {
    const { dimension, group } = sample;
    const key = sampleKey(dimension, group);
    const values = this.#feed.summary.sample(dimension, group);
    const history = sizeHistoryOf(this.#histories.of(groupTitle(group), dimension));
    const factor = this.#factor();
    const words =
      values && history && factor
        ? handfulFinding(
            { median: values.percentile(HALF, 7).value, n: values.n },
            history,
            decimal(factor),
            this.#neighbours(),
          )
        : null;
    if (words === null) this.#handfuls.delete(key);
    else this.#handfuls.set(key, `${this.#nameOf(sample)}: ${words}`);
  }

  #neighbours() {
    const { microscope, trains } = this.#context;
    const train = trainOfObjective(this.#context, objectiveInUse(this.#store.state()))?.train;
    if (!train) return [];
    const { objectives, changer } = neighbouringTrains({
      train,
      microscope,
      trainFactors: () =>
        trains.flatMap((one) =>
          one.inForce?.result ? [{ train: one.train, factor: one.inForce.result }] : [],
        ),
    });
    return [...objectives, ...changer];
  }

  #shared(): Map<string, ReadonlySet<FlagKey>> {
    return new Map(
      this.#context.method.definition.dimensions.map(({ key }) => {
        const { counts, measured } = this.#feed.summary.flagCounts(key);
        return [key, sharedFlags(counts, measured)];
      }),
    );
  }

  #wrongLines(): FindingLine[] {
    return [...this.#handfuls.values(), ...this.#apartLines.values()].map((words) => ({
      weight: "wrong",
      words,
    }));
  }

  #sharedLines(shared: ReadonlyMap<string, ReadonlySet<FlagKey>>): FindingLine[] {
    return [...shared].flatMap(([dimension, flags]) =>
      byWeight(flags).map((flag): FindingLine => {
        const { counts, measured } = this.#feed.summary.flagCounts(dimension);
        const count = counts.get(flag) ?? 0;
        const of = count === measured ? `all ${measured}` : `${count} of ${measured}`;
        const name = this.#nameOf({ dimension, group: "" });
        return { weight: "note", words: `${name}: ${FLAG_TITLES[flag]} in ${of} measurements.` };
      }),
    );
  }
}
