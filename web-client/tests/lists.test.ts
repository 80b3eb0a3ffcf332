// SPDX-License-Identifier: BSD-3-Clause
import { describe, expect, test } from "vitest";
import type { Edits, Value } from "../src/api/messages";
import { added, draftKey, isDisputed, listAnew, removed, tablesOf } from "../src/state/lists";

const LIST = "site.people";
const TEXT: Record<string, Value> = {
  "site.height": "2 m",
  "site.people[1].name": "one",
  "site.people[1].at": ["1 m", "0 m", "1 m"],
  "site.people[2].name": "two",
};
const names = (values: Record<string, Value>, edits: Edits) => tablesOf(LIST, values, edits).map((table) => table.values.name);

describe("tables of a list", () => {
  test("are those of the text with the edits in them", () => {
    expect(names(TEXT, { "site.people[2].name": "zwei" })).toEqual(["one", "zwei"]);
    expect(tablesOf(LIST, TEXT, { "site.people[1].at": null })[0]?.values).toEqual({ name: "one" });
  });

  test("that are new count on from the last, whatever was taken out", () => {
    const gone = removed(LIST, 2, TEXT, {});
    expect(gone).toEqual({ "site.people[2]": null });
    const { edits, number } = added(LIST, { name: "three" }, TEXT, gone);
    expect(number).toBe(3);
    expect(names(TEXT, edits)).toEqual(["one", "three"]);
  });

  test("taken out of the text take their edits along", () => {
    expect(removed(LIST, 1, TEXT, { "site.people[1].name": "x", power: "5 W" })).toEqual({ "site.people[1]": null, power: "5 W" });
  });

  test("that were new and are taken out were never there, and later ones move up", () => {
    const three = added(LIST, { name: "three" }, TEXT, {}).edits;
    const four = added(LIST, { name: "four" }, TEXT, three).edits;
    const left = removed(LIST, 3, TEXT, four);
    expect(left).toEqual({ "site.people[3].name": "four" });
  });

  test("of a text without any begin at 1", () => {
    expect(added(LIST, { name: "first" }, {}, {})).toEqual({ edits: { "site.people[1].name": "first" }, number: 1 });
  });
});

test("a key of the design is found in the draft past what was taken out", () => {
  const edits = removed(LIST, 1, TEXT, {});
  expect(draftKey("site.people[1].name", TEXT, edits)).toBe("site.people[2].name");
  expect(draftKey("site.people[1]", TEXT, {})).toBe("site.people[1]");
  expect(draftKey("site.height", TEXT, edits)).toBe("site.height");
});

test("any change of a list disputes an edit in it, since its numbers may have moved", () => {
  const other = { ...TEXT, "site.people[2].name": "somebody else" };
  expect(isDisputed("site.people[1].at", TEXT, other)).toBe(true);
  expect(isDisputed("site.people[1]", TEXT, TEXT)).toBe(false);
  expect(isDisputed("site.height", TEXT, other)).toBe(false);
  expect(isDisputed("site.height", TEXT, { ...TEXT, "site.height": "3 m" })).toBe(true);
});

test("a list made anew takes the place of all of theirs", () => {
  const theirs = { "site.people[1].name": "new first", ...Object.fromEntries(Object.entries(TEXT).map(([key, value]) => [key.replace("[2]", "[3]").replace("[1]", "[2]"), value])) };
  const edits = listAnew(LIST, TEXT, { "site.people[2].name": "mine" }, theirs);
  expect(names(theirs, edits)).toEqual(["one", "mine"]);
});
