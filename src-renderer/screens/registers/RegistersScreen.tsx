import { useCall } from "../../bridge/use-call.ts";
import { PartTabs } from "../../parts/layout/PartTabs.tsx";
import { ScreenFrame } from "../../parts/layout/ScreenFrame.tsx";
import type { LocationOf, RegisterName } from "../../window/location.ts";
import { useNavigation } from "../../window/navigation-context.tsx";
import { MethodRegister } from "./methods/MethodRegister.tsx";
import { MicrometerRegister } from "./micrometers/MicrometerRegister.tsx";
import { MicroscopeRegister } from "./microscopes/MicroscopeRegister.tsx";
import { LaboratoryRegister } from "./people/LaboratoryRegister.tsx";
import { PeopleRegister } from "./people/PeopleRegister.tsx";

const REGISTER_OF: Readonly<
  Record<RegisterName, (props: { readonly location: LocationOf<"registers"> }) => React.ReactNode>
> = {
  people: PeopleRegister,
  microscopes: MicroscopeRegister,
  micrometers: MicrometerRegister,
  methods: MethodRegister,
  laboratory: LaboratoryRegister,
};

/** Everything the bench knows before it measures: people, microscopes, stage micrometers, methods. */
export function RegistersScreen({ location }: { location: LocationOf<"registers"> }) {
  const navigation = useNavigation();
  const people = useCall("people.list", {});
  const microscopes = useCall("microscopes.list", {});
  const micrometers = useCall("micrometers.list", {});
  const methods = useCall("methods.list", {});
  const Register = REGISTER_OF[location.register];
  return (
    <ScreenFrame
      title="Registers"
      tabs={
        <PartTabs
          label="Registers"
          current={location.register}
          onChoose={(register) =>
            navigation.go({ screen: "registers", register, recordId: null, form: null })
          }
          parts={[
            { key: "people", words: "People", count: people.data?.length },
            { key: "microscopes", words: "Microscopes", count: microscopes.data?.length },
            { key: "micrometers", words: "Stage micrometers", count: micrometers.data?.length },
            { key: "methods", words: "Methods", count: methods.data?.length },
            { key: "laboratory", words: "Laboratory" },
          ]}
        />
      }
    >
      <Register location={location} />
    </ScreenFrame>
  );
}
