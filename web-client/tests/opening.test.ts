// SPDX-License-Identifier: BSD-3-Clause
import { expect, test } from "vitest";
import { nameOf } from "../src/state/opening";

test.each([
  ["terrace.toml", "terrace"],
  ["Ring für 40 m.TOML", "Ring für 40 m"],
  ["../../etc/passwd.toml", "etc-passwd"],
  ["_.toml", "design"],
  ["a&b=c?.toml", "a-b-c-"],
  ["x".repeat(200) + ".toml", "x".repeat(70)],
  ["end. .toml", "end"],
])("%s becomes a design called %s", (file, name) => {
  expect(nameOf(file)).toBe(name);
});
