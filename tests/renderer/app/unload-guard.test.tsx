// @vitest-environment jsdom
import { act } from "react";
import { createRoot } from "react-dom/client";
import { expect, it, vi } from "vitest";
import { useUnloadGuard } from "#renderer/app/use-unload-guard.ts";
import { BridgeProvider, createBridge } from "#renderer/bridge/bridge-context.tsx";
import { Navigation } from "#renderer/window/navigation.ts";
import { NavigationProvider } from "#renderer/window/navigation-context.tsx";

Object.assign(globalThis, { IS_REACT_ACT_ENVIRONMENT: true });

function Guarded() {
  useUnloadGuard();
  return null;
}

it("a window with unsaved work asks to stay and tells its host what that is; one without goes", async () => {
  const tellUnsaved = vi.fn();
  const bridge = createBridge(async () => null, { tellUnsaved, readAnew: () => undefined });
  const navigation = new Navigation(sessionStorage);
  const root = createRoot(document.createElement("div"));
  await act(async () =>
    root.render(
      <BridgeProvider bridge={bridge}>
        <NavigationProvider navigation={navigation}>
          <Guarded />
        </NavigationProvider>
      </BridgeProvider>,
    ),
  );
  const unload = () => !window.dispatchEvent(new Event("beforeunload", { cancelable: true }));
  expect(unload()).toBe(false);
  const done = navigation.guard("micrometer", { what: "the new micrometer", discard: () => undefined });
  expect(unload()).toBe(true);
  expect(tellUnsaved).toHaveBeenCalledExactlyOnceWith(["the new micrometer"]);
  done();
  expect(unload()).toBe(false);
  navigation.guard("micrometer", { what: "the new micrometer", discard: () => undefined });
  await act(async () => root.unmount());
  expect(unload()).toBe(false);
});
