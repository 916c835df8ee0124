// @vitest-environment jsdom
import { act } from "react";
import { createRoot } from "react-dom/client";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { BridgeProvider, createBridge } from "#renderer/bridge/bridge-context.tsx";
import { LetterPanel } from "#renderer/screens/trace/LetterPanel.tsx";

Object.assign(globalThis, { IS_REACT_ACT_ENVIRONMENT: true });

const LETTER = { title: "Affected sheets", text: "S-0001\tpollen", csv: "sheet,sample\nS-0001,pollen\n" };
const writeText = vi.fn(async (_text: string): Promise<void> => undefined);
const execCommand = vi.fn((_command: string) => false);

describe("a copy button", () => {
  beforeEach(() => {
    vi.clearAllMocks();
    Object.assign(navigator, { clipboard: { writeText } });
    Object.assign(document, { execCommand });
    document.body.innerHTML = "<div></div>";
  });
  afterEach(() => Reflect.deleteProperty(navigator, "clipboard"));

  const button = (words: string) =>
    [...document.querySelectorAll("button")].find(({ textContent }) => textContent === words);
  async function letter(): Promise<void> {
    const bridge = createBridge(async (name) =>
      name === "trace.letter"
        ? { ok: true, value: LETTER }
        : { ok: false, error: { code: "access.refused", message: "" } },
    );
    const root = createRoot(document.body.firstElementChild as HTMLElement);
    await act(async () =>
      root.render(
        <BridgeProvider bridge={bridge}>
          <LetterPanel scope={{} as never} />
        </BridgeProvider>,
      ),
    );
    await act(async () => button("Write the list")?.click());
  }

  it("says what it copied", async () => {
    await letter();
    await act(async () => button("Copy as a table (CSV)")?.click());
    expect(writeText).toHaveBeenCalledExactlyOnceWith(LETTER.csv);
    expect(document.querySelector("[role=status]")?.textContent).toBe("The table copied.");
    expect(document.querySelector("textarea")).toBeNull();
  });

  it("that is refused says so, and gives the text marked, to copy by hand", async () => {
    writeText.mockRejectedValueOnce(new DOMException("denied", "NotAllowedError"));
    await letter();
    await act(async () => button("Copy as a table (CSV)")?.click());
    expect(execCommand).toHaveBeenCalledExactlyOnceWith("copy");
    expect(document.body.textContent).toContain("nothing was copied");
    const place = document.querySelector("textarea");
    expect(place?.value).toBe(LETTER.csv);
    expect(document.activeElement).toBe(place);
    expect([place?.selectionStart, place?.selectionEnd]).toEqual([0, LETTER.csv.length]);
    await act(async () => button("Copy as a table (CSV)")?.click());
    expect(document.querySelector("textarea")).toBeNull();
  });
});
