import { writeFileSync } from "node:fs";
import { request } from "node:http";
import { join } from "node:path";
import { describe, expect, it, vi } from "vitest";
import { WINDOW_SESSION } from "#core/contract/window-session.ts";
import { createPresence } from "#main/loopback/presence.ts";
import { withScripts } from "#main/loopback/with-scripts.ts";
import { openDoor } from "./door.ts";

describe("exported workbooks", () => {
  it("come as a download under the secret address handed out, and under no other", async () => {
    const door = await openDoor();
    writeFileSync(join(door.exportFolder, "Löwenzahn 1.xlsx"), "workbook");
    const address = door.downloads.addressFor("Löwenzahn 1.xlsx");
    expect(address).toMatch(/^\/export\/[0-9a-f-]{36}$/);
    const answer = await door.get(address);
    expect(answer).toMatchObject({ status: 200, body: "workbook" });
    expect(answer.headers["content-disposition"]).toBe(
      "attachment; filename*=UTF-8''L%C3%B6wenzahn%201.xlsx",
    );
    expect((await door.get(`${address.slice(0, -1)}${address.endsWith("0") ? "1" : "0"}`)).status).toBe(404);
    expect((await door.get(address, { "sec-fetch-site": "same-site" })).status).toBe(403);
    expect((await door.get("/export/L%C3%B6wenzahn%201.xlsx")).status).toBe(404);
    await door.close();
  });

  it("say so when the file has gone", async () => {
    const door = await openDoor();
    const answer = await door.get(door.downloads.addressFor("gone.xlsx"));
    expect(answer.status).toBe(404);
    expect(JSON.parse(answer.body).error.message).toContain("export again");
    await door.close();
  });
});

describe("ending with the window", () => {
  it("counts windows and speaks once the last has been away for the grace period", () => {
    vi.useFakeTimers();
    const ended = vi.fn();
    const first = vi.fn();
    const presence = createPresence(4000, { onFirst: first, onEmpty: ended });
    expect(presence.seen).toBe(false);
    presence.arrive();
    presence.arrive();
    expect(first).toHaveBeenCalledTimes(1);
    presence.leave();
    vi.advanceTimersByTime(10_000);
    expect(ended).not.toHaveBeenCalled();
    presence.leave();
    vi.advanceTimersByTime(3900);
    presence.arrive();
    vi.advanceTimersByTime(10_000);
    expect(ended, "a reload is no end").not.toHaveBeenCalled();
    presence.leave();
    vi.advanceTimersByTime(4000);
    expect(ended).toHaveBeenCalledTimes(1);
    vi.useRealTimers();
  });

  it("notices a window by the request it holds open", async () => {
    const { promise: ended, resolve: end } = Promise.withResolvers<void>();
    const presence = createPresence(20, { onFirst: () => {}, onEmpty: end });
    const door = await openDoor({ presence });
    const session = await door.session();
    const held = request({
      host: "127.0.0.1",
      port: door.port,
      method: "POST",
      path: "/presence",
      headers: { ...door.own, [WINDOW_SESSION.header]: session },
    });
    held.on("error", () => {});
    await new Promise((resolve) => held.on("response", resolve).end("{}"));
    expect(presence.open).toBe(1);
    held.destroy();
    await ended;
    expect(presence.open).toBe(0);
    await door.close();
  });

  it("is off where the program keeps serving: no such address, no such script", async () => {
    const door = await openDoor();
    expect((await door.post("/presence")).status).toBe(404);
    expect((await door.get("/")).body).not.toContain("presence.js");
    await door.close();
  });

  it("adds external scripts to the page and leaves the rest", () => {
    const page = { body: Buffer.from("<html><head><title>b</title></head></html>"), type: "text/html" };
    const html = (presence: boolean) =>
      withScripts(new Map([["/index.html", page]]), { presence })
        .get("/index.html")
        ?.body.toString();
    const first = '<html><head><script type="module" src="/known-window.js"></script><title>b</title>';
    expect(html(false)).toBe(`${first}</head></html>`);
    expect(html(true)).toBe(`${first}<script type="module" src="/presence.js"></script></head></html>`);
  });
});
