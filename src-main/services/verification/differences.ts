import type { VerifyReport } from "#core/contract/records/trail.ts";

/** Enough to see what happened; a bench with more is not repaired by reading on. */
const MOST_LISTED = 200;
const LONGEST_SHOWN = 200;

function shown(value: unknown): string {
  const text = typeof value === "string" ? value : (JSON.stringify(value) ?? "nothing");
  return text.length > LONGEST_SHOWN ? `${text.slice(0, LONGEST_SHOWN)}…` : text;
}

/** Collects what differs between the stored and the recomputed. */
export class Differences {
  readonly #listed: VerifyReport["differences"] = [];
  #more = false;

  add(where: string, stored: unknown, expected: unknown): void {
    if (this.#listed.length < MOST_LISTED) {
      this.#listed.push({ where, stored: shown(stored), expected: shown(expected) });
    } else this.#more = true;
  }

  /** Names what cannot be read or recomputed at all. */
  addUnreadable(where: string, error: unknown): void {
    this.add(where, `cannot be read or recomputed: ${reasonOf(error)}`, "a whole record");
  }

  /** Compares two plain values, member by member, and names the innermost place where they differ. */
  compare(where: string, stored: unknown, expected: unknown): void {
    if (stored === expected) return;
    // Earlier programs let half a character in; the table has the mark for it that UTF-8 has, the trail its escape.
    if (typeof expected === "string" && stored === expected.toWellFormed()) return;
    if (isObject(stored) && isObject(expected)) {
      for (const key of new Set([...Object.keys(stored), ...Object.keys(expected)])) {
        this.compare(`${where}, ${key}`, stored[key], expected[key]);
      }
    } else this.add(where, stored, expected);
  }

  get listed(): VerifyReport["differences"] {
    return this.#listed;
  }

  get more(): boolean {
    return this.#more;
  }
}

interface Issue {
  readonly path: readonly PropertyKey[];
  readonly message: string;
}

/** Of a record that does not fit its schema the first field and what is wrong with it, else the words of the error. */
function reasonOf(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  const [issue] = (error as { issues?: readonly Issue[] }).issues ?? [];
  return issue ? `${issue.path.map(String).join(".")} ${issue.message}` : error.message;
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === "object" && value !== null;
}
