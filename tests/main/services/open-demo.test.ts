import { afterEach, expect, it, vi } from "vitest";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;
afterEach(() => bench.end());

it("asks the host once for the demo bench, where the host can open it", async () => {
  const openDemo = vi.fn(async () => undefined);
  bench = await tempBench({ openDemo });
  expect(await bench.call("bench.status", {})).toMatchObject({ offersDemo: true });
  await bench.call("bench.openDemo", {});
  expect(openDemo).toHaveBeenCalledOnce();
});

it("says what to do where it does not open", async () => {
  bench = await tempBench({ openDemo: () => Promise.reject(new Error("spawn EAGAIN")) });
  expect(await bench.refusal("bench.openDemo", {})).toMatchObject({
    code: "demo.unavailable",
    message: "The demo bench did not open (spawn EAGAIN).",
    hint: expect.stringContaining("npm run demo"),
  });
});

it.each([
  ["a host without windows", {}],
  ["the demo bench itself", { demo: true, openDemo: async () => undefined }],
])("is not offered by %s", async (_, options) => {
  bench = await tempBench(options);
  expect(await bench.call("bench.status", {})).toMatchObject({ offersDemo: false });
  expect(await bench.refusal("bench.openDemo", {})).toMatchObject({ code: "demo.unavailable" });
});
