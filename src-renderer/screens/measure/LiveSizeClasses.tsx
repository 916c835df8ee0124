import { useEffect, useState, useSyncExternalStore } from "react";
import type { MethodDefinition } from "#core/contract/records/method.ts";
import { countedQuantity, readSizeClasses, SizeClassCounter } from "#core/measurement/size-classes.ts";
import { ZERO } from "#core/quantity/decimal.ts";
import styles from "./LivePanel.module.css";
import type { SheetSummary } from "./sheet-summary.ts";
import type { SummaryFeed } from "./summary-feed.ts";

/** A class in words and how many fell into it so far. */
export interface LiveClass {
  readonly words: string;
  readonly counted: number;
}
export interface LiveClasses {
  readonly name: string;
  readonly classes: readonly LiveClass[];
}

/** All rows so far by the method's own limits; null where it has none, or counts by a derived quantity. */
export function liveClasses(
  summary: Pick<SheetSummary, "objects">,
  { sizeClasses, dimensions, derived }: MethodDefinition,
): LiveClasses | null {
  if (!sizeClasses || !dimensions.some(({ key }) => key === sizeClasses.of)) return null;
  const { name, unit } = countedQuantity(sizeClasses, { dimensions, derived });
  const classes = readSizeClasses(sizeClasses, unit);
  const counter = new SizeClassCounter(classes);
  for (const object of summary.objects(null)) {
    const size = object[sizeClasses.of];
    if (size) counter.add(size, ZERO);
  }
  const tallies = counter.tallies();
  return { name, classes: classes.map(({ words }, at) => ({ words, counted: tallies[at]?.counted ?? 0 })) };
}

/** A pause of this length in storing, ms, and the classes are counted anew. */
const PAUSE = 300;

export function useLiveSizeClasses(feed: SummaryFeed, definition: MethodDefinition): LiveClasses | null {
  const version = useSyncExternalStore(feed.subscribe, feed.version);
  const [live, setLive] = useState<LiveClasses | null>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: `version` tells that the sample has changed
  useEffect(() => {
    const timer = setTimeout(() => setLive(liveClasses(feed.summary, definition)), PAUSE);
    return () => clearTimeout(timer);
  }, [feed, version, definition]);
  return live;
}

/** The classes so far, all rows together. */
export function LiveSizeClasses({ classes }: { classes: LiveClasses | null }) {
  if (classes === null) return null;
  return (
    <table className={styles.figures}>
      <caption>{`${classes.name}, by size`}</caption>
      <tbody>
        {classes.classes.map(({ words, counted }) => (
          <tr key={words}>
            <th scope="row">{words}</th>
            <td>{counted}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
