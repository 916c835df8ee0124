import { useSyncExternalStore } from "react";
import { Panel } from "../../parts/layout/Panel.tsx";
import { ScreenFrame } from "../../parts/layout/ScreenFrame.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { RestSettingsForm } from "../../parts/own/RestSettingsForm.tsx";
import { SoundSettingsForm } from "../../sound/SoundSettingsForm.tsx";
import { windowSettings } from "../../window/own-settings.ts";
import { KeysPanel } from "./KeysPanel.tsx";
import { LookPanel } from "./LookPanel.tsx";
import { NotationPanel } from "./NotationPanel.tsx";

/** How the person at the bench wants the program: every change holds at once, and is kept with the bench. */
export function SettingsScreen() {
  const trouble = useSyncExternalStore(windowSettings.subscribe, windowSettings.trouble);
  return (
    <ScreenFrame
      title="Settings"
      lead="Yours alone, and kept with the bench: they come along to any machine it is opened on. Each change holds at once. No record or result depends on them."
    >
      {trouble ? (
        <Notice kind="fault" live title={`Not stored on the bench: ${trouble.message}`} hint={trouble.hint}>
          <p>It holds in this window and is stored with your next change.</p>
        </Notice>
      ) : null}
      <LookPanel />
      <NotationPanel />
      <Panel title="Sound and voice">
        <SoundSettingsForm tryTone="taken" />
      </Panel>
      <Panel title="Rest for the eyes">
        <RestSettingsForm />
      </Panel>
      <KeysPanel />
    </ScreenFrame>
  );
}
