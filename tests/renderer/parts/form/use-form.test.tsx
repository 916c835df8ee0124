// @vitest-environment jsdom
import { act, StrictMode } from "react";
import { createRoot, type Root } from "react-dom/client";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import type { Reply } from "#core/contract/reply.ts";
import { FormFrame } from "#renderer/parts/form/FormFrame.tsx";
import { problemsOfNumbers } from "#renderer/parts/form/form-checks.ts";
import { NumberField } from "#renderer/parts/form/NumberField.tsx";
import { TextField } from "#renderer/parts/form/TextField.tsx";
import { useForm } from "#renderer/parts/form/use-form.ts";
import { Navigation } from "#renderer/window/navigation.ts";
import { NavigationProvider } from "#renderer/window/navigation-context.tsx";

interface Typed {
  readonly name: string;
  readonly lines: readonly { readonly value: string }[];
}
type Send = (typed: Typed, requestId: string) => Promise<Reply<string>>;

Object.assign(globalThis, { IS_REACT_ACT_ENVIRONMENT: true });

const onSaved = vi.fn();
let root: Root;
let navigation: Navigation;

function Sample({ send }: { send: Send }) {
  const form = useForm({
    id: "sample",
    what: "the sample",
    initial: { name: "", lines: [{ value: "" }] } as Typed,
    root: "sample",
    check: (typed) => problemsOfNumbers([["lines.0.value", typed.lines[0]?.value ?? ""]]),
    send,
    onSaved,
  });
  return (
    <FormFrame form={form} label="Sample" submit="Save">
      <TextField {...form.bind("name", "Name")} />
      <NumberField {...form.bind("lines.0.value", "Value")} />
    </FormFrame>
  );
}

async function draw(send: Send): Promise<void> {
  await act(async () => {
    root.render(
      <StrictMode>
        <NavigationProvider navigation={navigation}>
          <Sample send={send} />
        </NavigationProvider>
      </StrictMode>,
    );
  });
}
const field = (path: string) =>
  document.getElementById(`form-sample-${path.replaceAll(".", "-")}`) as HTMLInputElement;

async function type(path: string, text: string): Promise<void> {
  await act(async () => {
    const setter = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, "value")?.set;
    setter?.call(field(path), text);
    field(path).dispatchEvent(new Event("input", { bubbles: true }));
  });
}
async function submit(): Promise<void> {
  await act(async () => {
    document.querySelector("form")?.dispatchEvent(new Event("submit", { bubbles: true, cancelable: true }));
  });
}

beforeEach(() => {
  sessionStorage.clear();
  document.body.innerHTML = "<main></main>";
  root = createRoot(document.querySelector("main") as HTMLElement);
  navigation = new Navigation(sessionStorage);
  onSaved.mockClear();
});
afterEach(async () => {
  await act(async () => root.unmount());
});

describe("a form", () => {
  it("sends nothing while an entry cannot be read, says so at the field, and puts the focus there", async () => {
    const send = vi.fn<Send>();
    await draw(send);
    await type("name", "Heather honey");
    await type("lines.0.value", "12x");
    await submit();
    expect(send).not.toHaveBeenCalled();
    expect(document.activeElement).toBe(field("lines.0.value"));
    expect(field("lines.0.value").getAttribute("aria-invalid")).toBe("true");
    const error = document.getElementById(field("lines.0.value").getAttribute("aria-describedby") ?? "");
    expect(error?.textContent).toContain("Value has a character that is not part of a number");
    expect(document.querySelector("[role=alert]")?.textContent).toContain("1 field");
  });

  it("keeps exactly what was typed", async () => {
    const send = vi.fn<Send>(async () => ({ ok: true, value: "saved" }));
    await draw(send);
    await type("lines.0.value", "40.0");
    await submit();
    expect(send.mock.calls[0]?.[0]).toEqual({ name: "", lines: [{ value: "40.0" }] });
    expect(onSaved).toHaveBeenCalledWith("saved");
  });

  it.each([
    ["of the field itself", "sample.name", "name"],
    ["deeper than the form goes", "sample.lines.0.value.text", "lines.0.value"],
  ])("shows a refusal %s at the field and loses nothing", async (_, path, shownAt) => {
    await draw(async () => ({
      ok: false,
      error: { code: "name.taken", message: "is taken", field: path, hint: "Choose another." },
    }));
    await type("name", "Heather honey");
    await type("lines.0.value", "7");
    await submit();
    expect(document.activeElement).toBe(field(shownAt));
    expect(field("name").value).toBe("Heather honey");
    expect(document.body.textContent).toContain("Choose another.");
    await type(shownAt, "8");
    expect(field(shownAt).getAttribute("aria-invalid")).toBeNull();
  });

  it("says a refusal that concerns no field above the form", async () => {
    await draw(async () => ({
      ok: false,
      error: { code: "host.lost", message: "The host does not answer." },
    }));
    await type("lines.0.value", "7");
    await submit();
    expect(document.querySelector("[role=alert]")?.textContent).toContain("The host does not answer.");
    expect(field("lines.0.value").value).toBe("7");
  });

  it("sends the same act under the same id, and a changed one under another", async () => {
    const ids: string[] = [];
    await draw(async (_, requestId) => {
      ids.push(requestId);
      return { ok: false, error: { code: "host.lost", message: "gone" } };
    });
    await type("lines.0.value", "7");
    await submit();
    await submit();
    await type("name", "other");
    await submit();
    expect(ids[0]).toBe(ids[1]);
    expect(ids[2]).not.toBe(ids[0]);
  });

  it("comes back as it was left, until it is saved or started afresh", async () => {
    const send = vi.fn<Send>(async () => ({ ok: true, value: "saved" }));
    await draw(send);
    await type("name", "half typed");
    await act(async () => root.unmount());
    root = createRoot(document.querySelector("main") as HTMLElement);
    await draw(send);
    expect(field("name").value).toBe("half typed");
    const afresh = [...document.querySelectorAll("button")].find((one) => one.textContent === "Start afresh");
    await act(async () => afresh?.click());
    expect(field("name").value).toBe("");
    expect(sessionStorage.getItem("linefall.typed.sample")).toBeNull();
  });

  it("asks before it is left half typed, and not after it is saved", async () => {
    await draw(async () => ({ ok: true, value: "saved" }));
    await type("lines.0.value", "7");
    expect(navigation.hasUnsavedWork()).toBe(true);
    onSaved.mockImplementationOnce(() => navigation.go({ screen: "records", tab: "sheets", recordId: null }));
    await submit();
    expect(navigation.state()).toMatchObject({ asking: null, location: { screen: "records" } });
  });
});
