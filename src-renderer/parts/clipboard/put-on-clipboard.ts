/**
 * Puts text on the clipboard after a press; a window without the permission still may by its copy command.
 * @returns whether it is there now
 */
export async function putOnClipboard(text: string): Promise<boolean> {
  const allowed = await navigator.clipboard?.writeText(text).then(
    () => true,
    () => false,
  );
  if (allowed) return true;
  let isTaken = false;
  const give = (event: ClipboardEvent): void => {
    event.clipboardData?.setData("text/plain", text);
    event.preventDefault();
    event.stopImmediatePropagation();
    isTaken = true;
  };
  document.addEventListener("copy", give, { capture: true });
  const done = document.execCommand("copy");
  document.removeEventListener("copy", give, { capture: true });
  return isTaken && done;
}
