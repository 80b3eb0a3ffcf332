// SPDX-License-Identifier: BSD-3-Clause
// What the person likes, kept in this browser: units, light, and whether numbers explain themselves.
import { effect, signal, type Signal } from "@preact/signals";
import type { System } from "../quantities";

type Theme = "light" | "dark";

function kept<T extends string>(name: string, choices: readonly T[], fallback: T): Signal<T> {
  const stored = read(name);
  const value = signal(choices.find((choice) => choice === stored) ?? fallback);
  effect(() => write(name, value.value));
  return value;
}

function read(name: string): string | null {
  try {
    return localStorage.getItem(`ringwright.${name}`);
  } catch {
    return null; // storage may be switched off; then preferences last as long as the page
  }
}

function write(name: string, value: string): void {
  try {
    localStorage.setItem(`ringwright.${name}`, value);
  } catch {
    // as above
  }
}

const prefersDark = matchMedia("(prefers-color-scheme: dark)").matches;

export const system = kept<System>("units", ["metric", "imperial"], "metric");
export const theme = kept<Theme>("light", ["light", "dark"], prefersDark ? "dark" : "light");
export const isExplaining = signal(false);

effect(() => {
  document.documentElement.dataset.theme = theme.value;
});
