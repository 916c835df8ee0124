import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { expect, test } from "@playwright/test";
import { type LoopbackProgram, startLoopbackProgram } from "../support/loopback-program.ts";

let program: LoopbackProgram;
test.beforeAll(async () => {
  program = await startLoopbackProgram();
});
test.afterAll(() => program.stop());

test("the printed address opens the bench once, and its token is gone from the address", {
  tag: "@loopback",
}, async ({ page }) => {
  const violations: string[] = [];
  page.on("console", (message) => {
    if (/content security policy/i.test(message.text())) violations.push(message.text());
  });
  page.on("pageerror", (error) => violations.push(error.message));
  await page.goto(program.address);
  await page.waitForURL(`${program.origin}/`);
  await expect(page).toHaveTitle(/Linefall/);
  await expect(page.locator("#window-root")).not.toBeEmpty();
  // Cookies are shared by every port of the machine: only the theme is in one.
  const cookies = (await page.context().cookies()).map((cookie) => cookie.name);
  expect(cookies.filter((name) => !name.startsWith("linefall.theme"))).toEqual([]);
  await page.reload();
  await expect(page.locator("#window-root")).not.toBeEmpty();
  expect(violations).toEqual([]);
});

test("a second use of the address says what to do, and shows nothing of the bench", {
  tag: "@loopback",
}, async ({ browser, page }) => {
  const address = program.freshAddress();
  const first = await browser.newPage();
  await first.goto(address);
  await first.waitForURL(`${program.origin}/`);
  await first.close();
  await page.goto(address);
  await expect(page.getByRole("status")).toContainText("Start Linefall again");
  expect(page.url()).toBe(`${program.origin}/enter`);
  await page.goto(program.origin);
  await expect(page.getByRole("status")).toContainText("no token");
});

/** A page on another port of this machine is of the same site: it gets and may set every cookie of 127.0.0.1. */
test("a page of another program on this machine cannot act or read with the window's session", {
  tag: "@loopback",
}, async ({ page, context }) => {
  await page.goto(program.freshAddress());
  await page.waitForURL(`${program.origin}/`);
  const gotten: string[] = [];
  const session = await page.evaluate(() => sessionStorage.getItem("linefall.window") ?? "");
  expect(session).toMatch(/^[\w-]{43}$/);
  const other = createServer((request, response) => {
    gotten.push(request.headers.cookie ?? "");
    response
      .writeHead(200, {
        "content-type": "text/html",
        "set-cookie": ["linefall=A; Path=/", "linefall.window=A; Path=/", "x-linefall-window=A; Path=/"],
      })
      .end("<title>elsewhere</title>");
  });
  await new Promise<void>((resolve) => other.listen(0, "127.0.0.1", resolve));
  const attacker = await context.newPage();
  await attacker.goto(`http://127.0.0.1:${(other.address() as AddressInfo).port}/`);
  const seen = await attacker.evaluate(async (origin) => {
    // Whatever it stores under our names stays with its own port, or is a cookie that nobody reads.
    sessionStorage.setItem("linefall.window", "A".repeat(43));
    const call = `${origin}/call/people.register`;
    const input = { requestId: "attack-0001", person: { name: "Ada", initials: "A", interpupillaryMm: "" } };
    const plain = { method: "POST", credentials: "include" as const, body: JSON.stringify(input) };
    const json = { ...plain, headers: { "content-type": "application/json" } };
    const outcome = (request: Promise<Response>) =>
      request.then(
        (answer) => answer.type,
        () => "stopped",
      );
    const image = new Image();
    const pictured = new Promise((resolve) => {
      image.onload = () => resolve("loaded");
      image.onerror = () => resolve("stopped");
    });
    image.src = `${origin}/`;
    const frame = document.createElement("iframe");
    frame.src = `${origin}/`;
    document.body.append(frame);
    await new Promise((resolve) => {
      frame.onload = resolve;
    });
    return {
      json: await outcome(fetch(call, json)),
      form: await outcome(fetch(call, plain)),
      // Sent blindly; its answer is withheld as well. What came of it is asked below.
      blind: await outcome(fetch(call, { ...plain, mode: "no-cors" })),
      image: await pictured,
      frame: frame.contentDocument === null ? "closed to us" : "open to us",
    };
  }, program.origin);
  other.close();
  expect(gotten.join()).not.toContain(session);
  expect(seen).toEqual({
    json: "stopped",
    form: "stopped",
    blind: "stopped",
    image: "stopped",
    frame: "closed to us",
  });
  const people = await page.evaluate(async () => {
    const post = (name: string, input: unknown) =>
      fetch(`/call/${name}`, {
        method: "POST",
        headers: {
          "content-type": "application/json",
          "x-linefall-window": sessionStorage.getItem("linefall.window") ?? "",
        },
        body: JSON.stringify(input),
      }).then((answer) => answer.json());
    const before = await post("people.list", {});
    const own = { requestId: "window-0001", person: { name: "Ada", initials: "A", interpupillaryMm: "" } };
    return { before, own: await post("people.register", own) };
  });
  expect(people.before).toEqual({ ok: true, value: [] });
  expect(people.own, "the same call from the window itself").toMatchObject({
    ok: true,
    value: { name: "Ada" },
  });
});
