// @vitest-environment jsdom
import { act } from "react";
import { createRoot, type Root } from "react-dom/client";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { BridgeProvider, createBridge } from "#renderer/bridge/bridge-context.tsx";
import { ClassPage } from "#renderer/screens/practice/ClassPage.tsx";
import { Navigation } from "#renderer/window/navigation.ts";
import { NavigationProvider } from "#renderer/window/navigation-context.tsx";
import { trueReadings } from "../../support/practice-reader.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

Object.assign(globalThis, { IS_REACT_ACT_ENVIRONMENT: true });

const SEED = 5113;
let bench: TempBench;
let root: Root;
const onOpen = vi.fn();

/** The page on a real bench: what it asks and does goes through the dispatcher. */
async function draw(): Promise<void> {
  const place = document.createElement("main");
  document.body.replaceChildren(place);
  root = createRoot(place);
  const bridge = createBridge((name, input) => bench.program.dispatch(name, input));
  await act(async () => {
    root.render(
      <NavigationProvider navigation={new Navigation(sessionStorage)}>
        <BridgeProvider bridge={bridge}>
          <ClassPage onOpen={onOpen} />
        </BridgeProvider>
      </NavigationProvider>,
    );
  });
}

/** Waits until the page says so. */
async function says(words: RegExp): Promise<void> {
  await vi.waitFor(async () => {
    await act(async () => undefined);
    expect(document.body.textContent).toMatch(words);
  }, 5000);
}

function button(words: RegExp): HTMLButtonElement {
  const found = [...document.querySelectorAll("button")].find((one) => words.test(one.textContent ?? ""));
  if (!found) throw new Error(`no button ${words}: ${document.body.textContent}`);
  return found;
}

function labelled(words: string): HTMLInputElement {
  const label = [...document.querySelectorAll("label")].find((one) => one.textContent?.startsWith(words));
  const field = document.getElementById(label?.htmlFor ?? "");
  if (!field) throw new Error(`no field ${words}`);
  return field as HTMLInputElement;
}

async function type(words: string, text: string): Promise<void> {
  const field = labelled(words);
  const prototype = field instanceof HTMLTextAreaElement ? HTMLTextAreaElement : HTMLInputElement;
  await act(async () => {
    Object.getOwnPropertyDescriptor(prototype.prototype, "value")?.set?.call(field, text);
    field.dispatchEvent(new Event("input", { bubbles: true }));
  });
}

async function readTenths(personId: string, off: number): Promise<void> {
  await bench.call("people.choose", { personId });
  const { id } = await bench.call("practice.begin", {
    requestId: bench.request(),
    exercise: "tenths",
    seed: SEED,
  });
  for (const [index, truth] of trueReadings(SEED).entries()) {
    await bench.call("practice.answer", {
      requestId: bench.request(),
      attemptId: id,
      ordinal: index + 1,
      typed: { reading: (truth + off).toFixed(1) },
    });
  }
}

beforeEach(async () => {
  bench = await tempBench();
  const { id } = await bench.call("people.register", {
    requestId: bench.request(),
    person: { name: "Tea Teacher", initials: "TT", interpupillaryMm: "" },
  });
  await bench.call("people.choose", { personId: id });
});
afterEach(async () => {
  await act(async () => root.unmount());
  await bench.end();
});

it("makes a class from a pasted list, and shows what it has done in tables, plot and words", async () => {
  await draw();
  await says(/Name of the class/);
  await act(async () => document.querySelector("form")?.requestSubmit());
  await says(/a name on each line/);
  await type("Name of the class", "Course of March");
  await type("Names", "Una Pupil\nOtto Pupil\t1B\n\n");
  await act(async () => document.querySelector("form")?.requestSubmit());
  await says(/Practice of the class Course of March/);
  await says(/Nobody of the class has finished an exercise yet/);
  const people = await bench.call("people.list", {});
  expect(people.map(({ name }) => name)).toEqual(["Tea Teacher", "Una Pupil", "Otto Pupil"]);

  await readTenths(people[1]?.id ?? "", 0.4);
  await readTenths(people[2]?.id ?? "", 0);
  await act(async () => root.unmount());
  await draw();
  await says(/Una Pupil should practise “Read tenths”: reads too high\./);
  await says(/Between people: F\(1, 78\) = .*p < 0\.001/);
  expect(document.querySelector("svg[role=img]")?.getAttribute("aria-label")).toMatch(
    /Otto Pupil 0\.00 ± 0\.03/,
  );
  await act(async () => button(/^Workbook$/).click());
  await says(/Written: Practice Course of March/);
  await act(async () => button(/Begin as Otto Pupil/).click());
  await vi.waitFor(() => expect(onOpen).toHaveBeenCalled(), 5000);
  expect((await bench.call("bench.status", {})).personInUse?.name).toBe("Otto Pupil");
  const [begun] = await bench.call("practice.list", { personId: people[2]?.id ?? null });
  expect(begun).toMatchObject({ exercise: "tenths", seed: SEED, endedAt: null });
});

it("takes readings of the same real slide one after another, and keeps what cannot be read in its field", async () => {
  await bench.call("practice.makeClass", {
    requestId: bench.request(),
    name: "Course of March",
    seed: SEED,
    slide: "ruled slide no. 2",
    intervals: 2,
    repeats: 1,
    names: ["Tea Teacher"],
  });
  await draw();
  await says(/Tea Teacher: interval 1 of 2, time 1 of 1/);
  const take = () =>
    act(async () =>
      button(/Take the reading/)
        .closest("form")
        ?.requestSubmit(),
    );
  await type("Left end", "ten");
  await type("Right end", "50.3");
  await take();
  await says(/Left end.*number/);
  expect(labelled("Left end").value).toBe("ten");
  await type("Left end", "10.0");
  await take();
  await says(/Tea Teacher: interval 2 of 2, time 1 of 1/);
  await type("Left end", "10.0");
  await type("Right end", "70.1");
  await take();
  await says(/Tea Teacher has taken every reading/);
  expect(await bench.call("calibrations.list", { trainId: null })).toEqual([]);
});
