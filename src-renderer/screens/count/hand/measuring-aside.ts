import type { Client } from "#core/contract/calls.ts";

/** An object that was taken to the linked sheet while counting. */
interface Aside {
  readonly sheetId: string;
  /** Rows of the sheet when the count was left. */
  readonly rowsBefore: number;
}

const kept = new WeakMap<Client, Map<string, Aside>>();

function asidesOf(client: Client): Map<string, Aside> {
  const known = kept.get(client) ?? new Map<string, Aside>();
  kept.set(client, known);
  return known;
}

/** Notes how many rows the linked sheet has before the object in hand is measured. */
export async function leaveToMeasure(client: Client, countId: string, sheetId: string): Promise<boolean> {
  const reply = await client("sheets.get", { sheetId });
  if (!reply.ok) return false;
  asidesOf(client).set(countId, { sheetId, rowsBefore: reply.value.sheet.rowCount });
  return true;
}

/** The row measured since the count was left, to go with the next press; null when there is none. */
export async function rowMeasuredAside(
  client: Client,
  countId: string,
): Promise<{ readonly rowId: string; readonly ordinal: number } | null> {
  const aside = asidesOf(client).get(countId);
  if (!aside) return null;
  asidesOf(client).delete(countId);
  const sheet = await client("sheets.get", { sheetId: aside.sheetId });
  if (!sheet.ok || sheet.value.sheet.rowCount <= aside.rowsBefore) return null;
  const { rowCount } = sheet.value.sheet;
  const page = await client("rows.page", { sheetId: aside.sheetId, from: rowCount, count: 1 });
  const row = page.ok ? page.value.rows[0] : undefined;
  return row ? { rowId: row.id, ordinal: rowCount } : null;
}
