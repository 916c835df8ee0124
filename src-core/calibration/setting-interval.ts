import { type Decimal, decimal } from "../quantity/decimal.ts";
import { InputError, requireFinite } from "../quantity/input-error.ts";
import type { Setting } from "./calibration.ts";
import { certifiedInterval } from "./certified-interval.ts";
import type { CertifiedInterval, CertifiedScale } from "./certified-scale.ts";

/** No reticle has a million divisions: a longer number is a slip of the keypad. */
const LARGEST_READING = decimal("1e6");

function requireReading(field: string, reading: Decimal): void {
  requireFinite(field, reading);
  if (reading.abs().greaterThan(LARGEST_READING)) {
    throw new InputError(field, "is not a reading of a reticle: type it in divisions");
  }
}

/**
 * The certified interval of one setting, with the setting's own field named when something is wrong with it.
 * @param index place of the setting in the list the person sees, from 0
 * @throws InputError `settings.N.reticleRight` or `.lineRight` for a span that is zero or reversed,
 * `settings.N.lineLeft` or `.lineRight` for a line outside the certificate's table
 */
export function settingInterval(scale: CertifiedScale, setting: Setting, index: number): CertifiedInterval {
  const at = `settings.${index}`;
  requireReading(`${at}.reticleLeft`, setting.reticleLeft);
  requireReading(`${at}.reticleRight`, setting.reticleRight);
  requireFinite(`${at}.lineLeft`, setting.lineLeft);
  requireFinite(`${at}.lineRight`, setting.lineRight);
  if (!setting.reticleRight.greaterThan(setting.reticleLeft)) {
    throw new InputError(
      `${at}.reticleRight`,
      setting.reticleRight.equals(setting.reticleLeft)
        ? "is the same as the left reading: a span of zero gives no factor"
        : "is less than the left reading: type the smaller reading first",
    );
  }
  if (!setting.lineRight.greaterThan(setting.lineLeft)) {
    throw new InputError(
      `${at}.lineRight`,
      setting.lineRight.equals(setting.lineLeft)
        ? "is the same line as on the left: a span of zero gives no factor"
        : "comes before the line on the left: type the smaller line first",
    );
  }
  try {
    return certifiedInterval(scale, setting.lineLeft, setting.lineRight);
  } catch (error) {
    if (error instanceof InputError && (error.field === "from" || error.field === "to")) {
      throw new InputError(`${at}.${error.field === "from" ? "lineLeft" : "lineRight"}`, error.reason);
    }
    throw error;
  }
}
