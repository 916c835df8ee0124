// @vitest-environment jsdom
import { act } from "react";
import { createRoot } from "react-dom/client";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { BenchOpening } from "#renderer/app/BenchOpening.tsx";
import { BridgeProvider, createBridge } from "#renderer/bridge/bridge-context.tsx";

Object.assign(globalThis, { IS_REACT_ACT_ENVIRONMENT: true });

beforeEach(() => vi.useFakeTimers());
afterEach(() => vi.useRealTimers());

it("tells what opening an older bench is at until it is gone, and nothing of one that opens at once", async () => {
  const answers: unknown[] = [
    null,
    { part: "the backup: copying", done: 1, parts: 4 },
    { part: "bringing it up to date: rows by number", done: 0, parts: 0 },
  ];
  const asked: string[] = [];
  const transport = async (name: string) => {
    // Other calls wait for the bench.
    if (name !== "bench.opening") return new Promise(() => undefined);
    asked.push(name);
    return { ok: true, value: answers.shift() ?? null };
  };
  const bridge = createBridge(transport as never, { tellUnsaved: vi.fn(), readAnew: () => undefined });
  const place = document.createElement("div");
  const root = createRoot(place);
  await act(async () =>
    root.render(
      <BridgeProvider bridge={bridge}>
        <BenchOpening />
      </BridgeProvider>,
    ),
  );
  expect(place.textContent).toBe("");
  const later = () => act(async () => vi.advanceTimersByTimeAsync(500));
  await later();
  expect(place.textContent).toBe("Opening the bench …");
  await later();
  expect(place.textContent).toContain("brought up to this one.the backup: copying, 25 %");
  expect(place.querySelector("progress")?.value).toBe(1);
  await later();
  expect(place.textContent).toContain("bringing it up to date: rows by number …");
  expect(place.querySelector("progress")?.hasAttribute("value")).toBe(false);
  await act(async () => root.unmount());
  const count = asked.length;
  await vi.advanceTimersByTimeAsync(2000);
  expect(asked).toHaveLength(count);
});
