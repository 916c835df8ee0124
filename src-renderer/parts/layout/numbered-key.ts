/**
 * What a key means among numbered choices: the number chosen (1…), `leave` for the keypad's minus, or null for any other
 * key. Where a text field has the focus the keys count only while it is empty.
 */
export function numberedKey(
  event: Pick<KeyboardEvent, "key" | "ctrlKey" | "altKey" | "metaKey" | "target">,
  count: number,
): number | "leave" | null {
  const { key, ctrlKey, altKey, metaKey, target } = event;
  if (ctrlKey || altKey || metaKey) return null;
  if (target instanceof HTMLInputElement || target instanceof HTMLTextAreaElement) {
    if (target.value !== "") return null;
  }
  if (key === "-") return "leave";
  const number = /^[1-9]$/.test(key) ? Number(key) : 0;
  return number >= 1 && number <= count ? number : null;
}
