// @vitest-environment jsdom
import { act } from "react";
import { createRoot } from "react-dom/client";
import { describe, expect, it, vi } from "vitest";
import { FaultBoundary } from "#renderer/app/FaultBoundary.tsx";
import { keepTyped, keptTyped } from "#renderer/parts/form/kept-typing.ts";

Object.assign(globalThis, { IS_REACT_ACT_ENVIRONMENT: true });

const state = { broken: true };

function Screen() {
  if (state.broken) throw new Error("no turret");
  return <p>the turret</p>;
}

describe("a defect while drawing", () => {
  it("is named, leaves what was typed, and the screen can be drawn again", async () => {
    vi.spyOn(console, "error").mockImplementation(() => undefined);
    document.body.innerHTML = "<div></div>";
    const root = createRoot(document.body.firstElementChild as HTMLElement);
    keepTyped("sample", { name: "half typed" });
    await act(async () =>
      root.render(
        <FaultBoundary where="the screen Bench">
          <Screen />
        </FaultBoundary>,
      ),
    );
    const notice = document.querySelector("[role=alert]");
    expect(notice?.textContent).toContain("the screen Bench");
    expect(notice?.textContent).toContain("no turret");
    expect(keptTyped("sample")).toEqual({ name: "half typed" });
    state.broken = false;
    await act(async () => notice?.querySelector("button")?.click());
    expect(document.body.textContent).toBe("the turret");
  });
});
