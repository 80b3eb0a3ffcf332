// SPDX-License-Identifier: BSD-3-Clause
import { beforeEach, expect, test, vi } from "vitest";
import * as draft from "../src/state/draft";
import { canRedo, canUndo, redo, undo } from "../src/state/history";

const text = (etag: string) => ({ name: "terrace", etag, text: "", values: { power: "100 W", "ring.joints": 8 } });
let now = 0;
let etag = 0;

beforeEach(() => {
  vi.spyOn(performance, "now").mockImplementation(() => now);
  draft.lay(text(String(etag++)));
});

/** A change after a rest of the hand. */
const change = (edits: Parameters<typeof draft.change>[0]) => {
  now += 2000;
  draft.change(edits);
};

test("steps lead back one by one, and forth again", () => {
  change({ power: "5 W" });
  change({ "ring.joints": 4 });
  undo();
  expect(draft.edits.value).toEqual({ power: "5 W" });
  undo();
  expect(draft.edits.value).toEqual({});
  expect([canUndo.value, canRedo.value]).toEqual([false, true]);
  undo();
  redo();
  redo();
  expect(draft.edits.value).toEqual({ power: "5 W", "ring.joints": 4 });
  expect([canUndo.value, canRedo.value]).toEqual([true, false]);
});

test("one stroke of a slider is one step; another key in the same moment is another", () => {
  for (const power of ["6 W", "7 W", "8 W"]) {
    now += 20;
    draft.change({ power });
  }
  draft.change({ "ring.joints": 4 });
  undo();
  expect(draft.edits.value).toEqual({ power: "8 W" });
  undo();
  expect(draft.edits.value).toEqual({});
  expect(canUndo.value).toBe(false);
});

test("a change after a step back ends the way forth", () => {
  change({ power: "5 W" });
  undo();
  change({ power: "6 W" });
  expect(canRedo.value).toBe(false);
  undo();
  expect(draft.edits.value).toEqual({});
});

test("dropping all changes is a step like others", () => {
  change({ power: "5 W" });
  change({ "ring.joints": 4 });
  now += 2000;
  draft.edits.value = {};
  undo();
  expect(draft.edits.value).toEqual({ power: "5 W", "ring.joints": 4 });
});

test("another text has no steps", () => {
  change({ power: "5 W" });
  draft.lay(text("saved"));
  expect([canUndo.value, canRedo.value]).toEqual([false, false]);
});
