// SPDX-License-Identifier: BSD-3-Clause
// Numbers of the tuner as they are shown.
import type { TuneState } from "../../api/messages";

export function megahertz(hertz: number | null): string {
  return hertz === null ? "\u2013" : (hertz / 1e6).toFixed(4);
}

const MET = new Set(["tuned", "rising", "at power"]);
const NEAR = 500; // Hz that table and dip may differ by without a word

/** Where the ring stands, by the dip that was met or else by the table, and where it is meant to go if that is elsewhere. */
export function frequencies(state: TuneState | null): { stands: number | null; towards: number | null } {
  const here = state?.frequency_hz ?? null;
  const target = state?.target_hz ?? null;
  if (state === null || target === null || here === null) return { stands: here ?? target, towards: null };
  if (MET.has(state.phase) && !state.moving) return { stands: target, towards: null };
  return { stands: here, towards: Math.abs(target - here) > NEAR ? target : null };
}

/** Hertz of a typed number of megahertz; null where it is none. A comma is a point. */
export function hertzOf(text: string): number | null {
  const plain = text.trim().replace(",", ".").replace(/\s*MHz$/i, "");
  if (!/^\d{1,3}(\.\d{1,6})?$/.test(plain)) return null;
  const found = Math.round(Number(plain) * 1e6);
  return found >= 1.8e6 && found <= 54e6 ? found : null;
}

export function readout(state: TuneState | null): { label: string; value: string; unit: string }[] {
  const none = "\u2013";
  const watts = state?.forward_w ?? null;
  return [
    { label: "SWR", value: state?.swr ? state.swr.toFixed(2) : none, unit: "" },
    { label: "forward", value: watts === null ? none : watts < 0.05 ? "0" : watts.toFixed(watts < 20 ? 1 : 0), unit: "W" },
    { label: "ring", value: state?.temperature_degc == null ? none : state.temperature_degc.toFixed(0), unit: "\u00b0C" },
    { label: "step", value: state?.position_steps == null ? none : String(state.position_steps), unit: state?.sure === false ? "not sure" : "" },
  ];
}
