// SPDX-License-Identifier: BSD-3-Clause
import { expect, test } from "vitest";
import { LiveLine } from "../src/api/live_line";

class Wire {
  readyState = 0;
  sent: { seq: number; edits: object }[] = [];
  onopen: () => void = () => {};
  onclose: () => void = () => {};
  onmessage: (event: { data: string }) => void = () => {};
  send(text: string) {
    this.sent.push(JSON.parse(text));
  }
  open() {
    this.readyState = 1;
    this.onopen();
  }
  close() {
    this.readyState = 3;
    this.onclose();
  }
  answer(seq: number, type = "prediction") {
    this.onmessage({ data: JSON.stringify({ type, seq }) });
  }
}

function bench() {
  const wires: Wire[] = [];
  const waiting: { action: () => void; pause: number }[] = [];
  const seen: string[] = [];
  const line = new LiveLine(
    { message: (message) => seen.push(message.type), connected: (is) => seen.push(is ? "up" : "down") },
    () => {
      wires.push(new Wire());
      return wires.at(-1) as unknown as WebSocket;
    },
    (action, pause) => waiting.push({ action, pause }),
  );
  return { line, wires, waiting, seen };
}

const draft = (power: string) => ({ edits: { power } });

test("one request is in flight, and after it only the newest is sent", () => {
  const { line, wires } = bench();
  const wire = wires[0] as Wire;
  line.ask(draft("1 W"));
  expect(wire.sent).toEqual([]);
  wire.open();
  for (const power of ["2 W", "3 W", "4 W"]) line.ask(draft(power));
  expect(wire.sent.map((one) => one.edits)).toEqual([{ power: "1 W" }]);
  wire.answer(1);
  expect(wire.sent.at(-1)).toMatchObject({ seq: 2, edits: { power: "4 W" } });
  wire.answer(2, "problem");
  expect(wire.sent).toHaveLength(2);
});

test("what is no answer does not free the line", () => {
  const { line, wires } = bench();
  const wire = wires[0] as Wire;
  wire.open();
  line.ask(draft("1 W"));
  line.ask(draft("2 W"));
  wire.onmessage({ data: JSON.stringify({ type: "file_changed", name: "x", etag: null }) });
  expect(wire.sent).toHaveLength(1);
});

test("a broken line opens again, waits longer each time, and asks for the draft that stands", () => {
  const { line, wires, waiting, seen } = bench();
  (wires[0] as Wire).open();
  line.ask(draft("1 W"));
  (wires[0] as Wire).close();
  line.ask(draft("2 W"));
  for (let again = 1; again <= 5; again++) {
    waiting.at(-1)?.action();
    (wires.at(-1) as Wire).close();
  }
  expect(waiting.map((one) => one.pause)).toEqual([250, 500, 1000, 2000, 2000, 2000]);
  waiting.at(-1)?.action();
  (wires.at(-1) as Wire).open();
  expect((wires.at(-1) as Wire).sent.map((one) => one.edits)).toEqual([{ power: "2 W" }]);
  expect(seen[0]).toBe("up");
  expect(seen.at(-1)).toBe("up");
});
