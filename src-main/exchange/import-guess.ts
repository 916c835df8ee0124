import type { ImportColumn, ImportRole } from "#core/contract/records/exchange.ts";
import type { MethodDimension } from "#core/contract/records/method.ts";
import { isTypedNumber } from "#core/quantity/decimal-text.ts";

const LABEL = /\b(label|name|species|taxon|specimen|grain|object|type|sample)\b/i;
const NOTE = /\b(note|remark|comment|observation)s?\b/i;
const EDGES: readonly (readonly [ImportRole, RegExp])[] = [
  ["left", /\b(left|from|start)\b/i],
  ["right", /\b(right|to|end)\b/i],
  ["micrometres", /(µm|μm|\bum\b|micron|micromet)/i],
  ["divisions", /\b(div|divs|divisions?|direct|reading)\b/i],
];
/** What this program itself adds beside a reading is no reading. */
const DERIVED =
  /\b(as typed|factor|recorded|read at|read by|objective|calibration|flags|why|struck|sheet)\b/i;

/** The dimension whose name or key the heading holds; the only dimension of a method needs no name. */
function dimensionOf(heading: string, dimensions: readonly MethodDimension[]): string | null {
  const text = heading.toLowerCase();
  const named = dimensions.find(
    (one) => text.includes(one.name.toLowerCase()) || text.split(/\W+/).includes(one.key),
  );
  return named?.key ?? (dimensions.length === 1 ? (dimensions[0]?.key ?? null) : null);
}

function roleOf(
  heading: string,
  dimensions: readonly MethodDimension[],
): Omit<ImportColumn, "column"> | null {
  if (DERIVED.test(heading)) return null;
  const dimension = dimensionOf(heading, dimensions);
  const role = EDGES.find(([, pattern]) => pattern.test(heading))?.[0] ?? null;
  if (role !== null && dimension !== null) return { role, dimension };
  if (NOTE.test(heading)) return { role: "note", dimension: null };
  if (LABEL.test(heading)) return { role: "label", dimension: null };
  // A bare name of a dimension is most likely its divisions.
  return dimension !== null && dimensions.length > 1 ? { role: "divisions", dimension } : null;
}

/** What the first line suggests; a line without a single number is taken for headings. Each meaning is given once. */
export function guessColumns(
  lines: readonly (readonly string[])[],
  dimensions: readonly MethodDimension[],
): { headingLines: number; columns: ImportColumn[] } {
  const first = lines[0] ?? [];
  const hasHeadings = first.some((cell) => cell.trim() !== "") && !first.some(isTypedNumber);
  if (!hasHeadings) return { headingLines: 0, columns: [] };
  const columns: ImportColumn[] = [];
  first.forEach((heading, column) => {
    const guess = roleOf(heading, dimensions);
    if (guess === null) return;
    if (columns.some((one) => one.role === guess.role && one.dimension === guess.dimension)) return;
    columns.push({ column, ...guess });
  });
  return { headingLines: 1, columns };
}
