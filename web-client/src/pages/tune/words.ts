// SPDX-License-Identifier: BSD-3-Clause
// Numbers of the tuner as they are shown.
import type { Edits, TuneBringUp, TuneState, TuneTold, Value } from "../../api/messages";

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

/** Why nothing can be asked of the drive now, in words; null where it can. */
export function hindrance(state: TuneState | null, holder: string | null, bringUp: TuneBringUp | null): string | null {
  if (holder !== null) return `${holder} holds control: take it over to move the drive.`;
  if (state === null || !state.link) return "There is no word from the drive.";
  if (state.locked !== null) return "Locked after a suspected arc.";
  if (state.stopped) return "STOP holds.";
  if (bringUp?.is_running) return "The drive is being brought up: do the step to its end, or leave it for now.";
  return null;
}

/** What a design lacks to be tuned by a drive, in words; null where it lacks nothing. */
export function lacking(values: Record<string, Value> | null, edits: Edits): string | null {
  if (values === null) return null;
  const states = (key: string) => [...Object.keys(values), ...Object.keys(edits)].some((one) => one === key || one.startsWith(`${key}.`));
  if (!states("drive")) return "The design states no drive: add a [drive] to its file.";
  // Half a turn, a butterfly a quarter, unless stated.
  const isTurned = ["air", "split-stator", "butterfly"].some((kind) => values["capacitor.kind"] === kind);
  return isTurned || states("capacitor.travel") ? null : "The design does not state its capacitor's travel: add travel to [capacitor].";
}

/** The same said several times, one after the other, once with how often. */
export function once(told: readonly TuneTold[]): { said: TuneTold; times: number }[] {
  const found: { said: TuneTold; times: number }[] = [];
  for (const said of told) {
    const last = found.at(-1);
    if (last?.said.words === said.words) Object.assign(last, { said, times: last.times + 1 });
    else found.push({ said, times: 1 });
  }
  return found;
}

/** Hertz of a typed number of megahertz; null where it is none. A comma is a point. */
export function hertzOf(text: string): number | null {
  const plain = text.trim().replace(",", ".").replace(/\s*MHz$/i, "");
  if (!/^\d{1,3}(\.\d{1,6})?$/.test(plain)) return null;
  const found = Math.round(Number(plain) * 1e6);
  return found >= 1.8e6 && found <= 54e6 ? found : null;
}

/** A count that lost steps may have shifted without anybody's knowing is sure enough to go on, and not proved. */
function doubt(state: TuneState | null): string {
  if (state === null || state.proved) return "";
  return state.sure ? "not proved" : "not sure";
}

export function readout(state: TuneState | null): { label: string; value: string; unit: string }[] {
  const none = "\u2013";
  const watts = state?.forward_w ?? null;
  return [
    { label: "SWR", value: state?.swr ? state.swr.toFixed(2) : none, unit: "" },
    { label: "forward", value: watts === null ? none : watts < 0.05 ? "0" : watts.toFixed(watts < 20 ? 1 : 0), unit: "W" },
    { label: "ring", value: state?.temperature_degc == null ? none : state.temperature_degc.toFixed(0), unit: "\u00b0C" },
    { label: "step", value: state?.position_steps == null ? none : String(state.position_steps), unit: doubt(state) },
  ];
}
