// SPDX-License-Identifier: BSD-3-Clause
import { describe, expect, it } from "vitest";
import type { TuneBringUp, TuneSaid, TuneSearch, TuneState, TuneTold } from "../src/api/messages";
import { TuneLine } from "../src/api/tune_line";
import { dipSwr, plotSpan } from "../src/pages/tune/plot";
import { frequencies, hertzOf, hindrance, lacking, megahertz, once } from "../src/pages/tune/words";

describe("typed frequencies", () => {
  it("reads megahertz with a point or a comma", () => {
    expect(hertzOf("7.1")).toBe(7_100_000);
    expect(hertzOf(" 10,125 MHz")).toBe(10_125_000);
  });
  it("takes nothing else", () => {
    for (const text of ["", "seven", "7.1e6", "-7", "0.5", "99", "7.1.2", "NaN"]) expect(hertzOf(text)).toBeNull();
  });
  it("shows tenths of a kilohertz", () => {
    expect(megahertz(10_124_961)).toBe("10.1250");
    expect(megahertz(null)).toBe("\u2013");
  });
});

describe("the frequency on top", () => {
  const at = (phase: string, here: number | null, target: number | null, moving = false) =>
    frequencies({ phase, frequency_hz: here, target_hz: target, moving } as unknown as TuneState);
  it("is the one that was met while the drive stands on it", () => {
    expect(at("tuned", 7_100_300, 7_100_000)).toEqual({ stands: 7_100_000, towards: null });
  });
  it("is where the ring stands, with the goal beside it, on the way and after a nudge", () => {
    expect(at("going", 11_000_000, 14_175_000, true)).toEqual({ stands: 11_000_000, towards: 14_175_000 });
    expect(at("at rest", 14_119_000, 14_175_000)).toEqual({ stands: 14_119_000, towards: 14_175_000 });
  });
  it("is nothing before the board has said anything", () => {
    expect(frequencies(null)).toEqual({ stands: null, towards: null });
  });
});

describe("what can be asked", () => {
  const standing = (more: object) => ({ link: true, stopped: false, locked: null, ...more }) as unknown as TuneState;
  const bringUp = (is_running: boolean) => ({ is_running }) as unknown as TuneBringUp;
  it("is everything of a drive that answers and that nobody else holds", () => {
    expect(hindrance(standing({}), null, bringUp(false))).toBeNull();
    expect(hindrance(standing({}), null, null)).toBeNull();
  });
  it("is nothing while another page holds control, STOP or a lock holds, or the drive is away or brought up", () => {
    expect(hindrance(standing({}), "a phone", null)).toContain("a phone holds control: take it over");
    expect(hindrance(standing({ stopped: true }), null, null)).toContain("STOP");
    expect(hindrance(standing({ locked: "arc" }), null, null)).toContain("arc");
    expect(hindrance(standing({ link: false }), null, null)).toContain("no word");
    expect(hindrance(null, null, null)).toContain("no word");
    expect(hindrance(standing({}), null, bringUp(true))).toContain("brought up");
  });
});

describe("a design for a drive", () => {
  it("states a drive and its capacitor's travel, in the file or as edited", () => {
    expect(lacking({ "drive.reduction": 5, "capacitor.travel": "16 turns" }, {})).toBeNull();
    expect(lacking({ "capacitor.travel": "16 turns" }, { "drive.reduction": 5 })).toBeNull();
    expect(lacking({ "capacitor.travel": "16 turns" }, {})).toContain("no drive");
    expect(lacking({ "drive.reduction": 5 }, {})).toContain("travel");
    expect(lacking({ "drive.reduction": 5, "capacitor.kind": "butterfly" }, {})).toBeNull(); // a quarter turn, unless stated
    expect(lacking(null, {})).toBeNull(); // nothing is known of it yet
  });
});

describe("what was told", () => {
  const told = (...words: string[]) => words.map((one, at_s) => ({ words: one, at_s }) as unknown as TuneTold);
  it("is shown once, with how often, where it was said on end", () => {
    expect(once(told("a", "a", "b", "a")).map(({ said, times }) => [said.words, said.at_s, times])).toEqual([
      ["a", 1, 2],
      ["b", 2, 1],
      ["a", 3, 1],
    ]);
  });
});

const dip = { centre_steps: 1000, centre_sigma_steps: 1, half_width_steps: 50, floor: 1, depth: 1 };
const search = { low_steps: 0, high_steps: 5000, readings: [], dip: null } as unknown as TuneSearch;

describe("the plot", () => {
  it("shows the dip and the drive", () => {
    const span = plotSpan({ search: { ...search, dip }, position: 2000, last: 9000 });
    expect(span.low).toBeLessThan(600);
    expect(span.high).toBeGreaterThan(2000);
  });
  it("shows all of a search that has found nothing yet", () => {
    const span = plotSpan({ search, position: null, last: 9000 });
    expect(span.low).toBeLessThan(0);
    expect(span.high).toBeGreaterThan(5000);
  });
  it("has SWR 5.83 where half of the power comes back", () => {
    // (1 + sqrt(1/2)) / (1 - sqrt(1/2)) = 3 + 2 sqrt(2), by hand
    expect(dipSwr(dip, 1050)).toBeCloseTo(3 + 2 * Math.SQRT2, 9);
    expect(dipSwr(dip, 1000)).toBe(1);
  });
});

class FakeSocket {
  readyState = 1;
  sent: string[] = [];
  onopen?: () => void;
  onclose?: () => void;
  onmessage?: (event: { data: string }) => void;
  send(text: string): void {
    this.sent.push(text);
  }
}

describe("the tuner's line", () => {
  function opened() {
    const sockets: FakeSocket[] = [];
    const later: (() => void)[] = [];
    const every: (() => void)[] = [];
    const connected: boolean[] = [];
    const line = new TuneLine(
      { message: () => undefined, connected: (is) => connected.push(is) },
      "a phone",
      () => {
        const socket = new FakeSocket();
        sockets.push(socket);
        return socket as unknown as WebSocket;
      },
      (action) => later.push(action),
      (action) => every.push(action),
    );
    const say = (socket: FakeSocket | undefined, message: Partial<TuneSaid>) => socket?.onmessage?.({ data: JSON.stringify(message) });
    return { line, sockets, later, every, connected, say };
  }

  it("is the same viewer after a cut", () => {
    const { sockets, later, connected, say } = opened();
    sockets[0]?.onopen?.();
    say(sockets[0], { type: "drive", key: "k" });
    sockets[0]?.onclose?.();
    later[0]?.();
    sockets[1]?.onopen?.();
    expect(connected).toEqual([true, false, true]);
    expect(JSON.parse(sockets[1]?.sent[0] ?? "")).toEqual({ type: "tune_hello", name: "a phone", key: "k" });
  });

  it("gives its sign while a drive is connected, and says when STOP could not be sent", () => {
    const { line, sockets, every, say } = opened();
    every[0]?.();
    expect(sockets[0]?.sent).toEqual([]);
    say(sockets[0], { type: "drive", key: "k" });
    every[0]?.();
    expect(sockets[0]?.sent).toEqual(['{"type":"tune_sign"}']);
    if (sockets[0]) sockets[0].readyState = 3;
    expect(line.send({ type: "tune_stop" })).toBe(false);
  });
});
