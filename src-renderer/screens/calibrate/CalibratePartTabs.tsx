import { PartTabs } from "../../parts/layout/PartTabs.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";

/** Calibrate or only check: the two ways to prove a factor. */
export function CalibratePartTabs({
  current,
  trainId,
}: {
  current: "calibrate" | "check";
  trainId: string | null;
}) {
  const navigation = useNavigation();
  return (
    <PartTabs
      label="Calibrate or check"
      current={current}
      onChoose={(part) =>
        navigation.go({
          screen: "calibrate",
          trainId,
          calibrationId: null,
          ...(part === "check" ? { check: true as const } : {}),
        })
      }
      parts={[
        { key: "calibrate", words: "Calibration" },
        { key: "check", words: "Quick check" },
      ]}
    />
  );
}
