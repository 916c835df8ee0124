import { connect } from "node:net";
import { networkInterfaces } from "node:os";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { WINDOW_SESSION } from "#core/contract/window-session.ts";
import { ask } from "../../support/raw-http.ts";
import { type OpenDoor, openDoor } from "./door.ts";

describe("the one-time token", () => {
  let door: OpenDoor;
  beforeAll(async () => {
    door = await openDoor();
  });
  afterAll(() => door.close());

  it("is exchanged for a secret that the page keeps; no cookie is set, which other ports would get", async () => {
    const answer = await door.enter();
    expect(answer.status).toBe(200);
    expect(answer.headers["set-cookie"]).toBeUndefined();
    expect(JSON.parse(answer.body)).toEqual({ session: expect.stringMatching(/^[\w-]{43}$/) });
    expect(door.enteredTimes()).toBe(1);
  });

  it("works once", async () => {
    const token = door.tokenOf(door.server.invite());
    expect((await door.enter(token)).status).toBe(200);
    const again = await door.enter(token);
    expect(again.status).toBe(403);
    expect(again.body).not.toContain("session");
  });

  it.each([
    ["a wrong token", JSON.stringify({ token: "A".repeat(43) })],
    ["an empty token", JSON.stringify({ token: "" })],
    ["no token", "{}"],
    ["a token that is no text", JSON.stringify({ token: ["x"] })],
    ["a list", "[]"],
    ["null", "null"],
    ["a token on the prototype", '{"__proto__":{"token":"x"}}'],
  ])("%s does not open the door", async (_what, body) => {
    const answer = await ask(door.port, { method: "POST", path: "/enter", headers: door.own, body });
    expect(answer.status).toBe(403);
    expect(answer.body).not.toContain("session");
  });

  it("cannot be sent by another origin even when it is known", async () => {
    const body = JSON.stringify({ token: door.tokenOf(door.server.invite()) });
    const headers = { ...door.own, origin: "https://attacker.example" };
    expect((await ask(door.port, { method: "POST", path: "/enter", headers, body })).status).toBe(403);
  });

  it("travels in the fragment only: neither page nor script contains it", async () => {
    const address = door.server.invite();
    expect(new URL(address).pathname + new URL(address).search).toBe("/enter");
    const page = await door.get("/enter", {});
    const script = await door.get("/enter.js", {});
    expect([page.status, script.status]).toEqual([200, 200]);
    expect(page.body + script.body).not.toContain(door.tokenOf(address));
    expect(page.body).not.toMatch(/<script(?![^>]*\bsrc=)|\son\w+=|style=/);
  });

  it("a session of one program is worth nothing at another", async () => {
    const other = await openDoor();
    const stolen = await other.session();
    expect((await door.post("/call/bench.status", { [WINDOW_SESSION.header]: stolen })).status).toBe(403);
    await other.close();
  });

  it("a session is worth nothing as a cookie: what a browser sends by itself proves nothing", async () => {
    const session = await door.session();
    const names = ["linefall", `linefall-${door.port}`, WINDOW_SESSION.storageKey, WINDOW_SESSION.header];
    const cookie = names.map((name) => `${name}=${session}`).join("; ");
    const answer = await door.post("/call/bench.status", { cookie, [WINDOW_SESSION.header]: "" });
    expect(answer.status).toBe(403);
    // And cookies that another port has set are in nobody's way.
    expect((await door.post("/call/bench.status", { cookie })).status).toBe(200);
  });

  it("two sessions in one header are none", async () => {
    const both = `${await door.session()}, ${await door.session()}`;
    expect((await door.post("/call/bench.status", { [WINDOW_SESSION.header]: both })).status).toBe(403);
  });

  it("pages and scripts know the header and the place by the names of the contract", async () => {
    const [enter, known, presence] = await Promise.all(
      ["/enter.js", "/known-window.js", "/presence.js"].map(async (path) => (await door.get(path)).body),
    );
    for (const script of [enter, known, presence]) {
      expect(script).toContain(
        `sessionStorage.${script === enter ? "set" : "get"}Item("${WINDOW_SESSION.storageKey}"`,
      );
    }
    expect(presence).toContain(`"${WINDOW_SESSION.header}": `);
  });
});

describe("the happy path", () => {
  it("serves the window, carries calls to the dispatcher and brings refusals back with status 200", async () => {
    const refusal = { ok: false as const, error: { code: "sheet.closed", message: "The sheet is closed." } };
    const door = await openDoor({ reply: async () => refusal });
    expect(await door.get("/")).toMatchObject({ status: 200, body: expect.stringContaining("bench") });
    const answer = await door.post("/call/rows.enter", {}, '{"x":1}');
    expect(answer.status).toBe(200);
    expect(JSON.parse(answer.body)).toEqual(refusal);
    expect(door.dispatched).toEqual([{ name: "rows.enter", input: { x: 1 } }]);
    await door.close();
  });

  it("listens on 127.0.0.1 and on no other address of this machine", async () => {
    const door = await openDoor();
    const others = Object.values(networkInterfaces())
      .flat()
      .filter(
        (found) => found !== undefined && found.address !== "127.0.0.1" && !found.address.startsWith("fe80"),
      )
      .map((found) => found?.address ?? "");
    for (const address of [...others, "::1"]) expect(await connects(address, door.port)).toBe(false);
    expect(await connects("127.0.0.1", door.port)).toBe(true);
    await door.close();
  });

  it("finishes a call that is under way before it closes", async () => {
    const { promise: slow, resolve: finish } = Promise.withResolvers<void>();
    const { promise: arrived, resolve: arrive } = Promise.withResolvers<void>();
    const door = await openDoor({
      async reply() {
        arrive();
        await slow;
        return { ok: true, value: "stored" };
      },
    });
    const answer = door.post("/call/rows.enter");
    await arrived;
    const closed = door.close();
    finish();
    expect(JSON.parse((await answer).body)).toEqual({ ok: true, value: "stored" });
    await closed;
    await expect(ask(door.port, { path: "/enter" })).rejects.toThrow();
  });
});

function connects(address: string, port: number): Promise<boolean> {
  return new Promise((resolve) => {
    const socket = connect({ host: address, port, timeout: 2000 });
    const end = (reached: boolean) => {
      socket.destroy();
      resolve(reached);
    };
    socket.on("connect", () => end(true));
    socket.on("error", () => end(false));
    socket.on("timeout", () => end(false));
  });
}
